using System.IO.Compression;
using System.Text;
using PatternKit.Exchange.ThreeMf;

namespace PatternKit.Exchange.Tests.ThreeMf;

/// <summary>3MF packages by hand.</summary>
internal static class Packages
{
    public const string Core = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";

    public const string Tetrahedron = """
        <mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/><vertex x="0" y="0" z="1"/></vertices>
        <triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="1" v2="2" v3="3"/><triangle v1="2" v2="0" v3="3"/></triangles></mesh>
        """;

    public static byte[] Zip(params (string Name, string Text)[] parts)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, true))
            foreach (var (name, text) in parts)
            {
                using var stream = zip.CreateEntry(name).Open();
                stream.Write(Encoding.UTF8.GetBytes(text));
            }

        return bytes.ToArray();
    }

    public static byte[] WithModel(string model, string at = "3D/3dmodel.model") => Zip(
        (ThreeMfPackage.RelationshipsPart, $"""<Relationships xmlns="{ThreeMfPackage.RelationshipsNamespace}"><Relationship Id="r" Type="{ThreeMfPackage.ModelRelationship}" Target="/{at}"/></Relationships>"""),
        (at, model));

    public static byte[] WithBody(string attributes = "", string mesh = Tetrahedron, string item = "", string objectAttributes = "", string more = "") => WithModel(
        $"""<model xmlns="{Core}" {attributes}><resources><object id="1" {objectAttributes}>{mesh}</object>{more}</resources><build><item objectid="1" {item}/></build></model>""");
}
