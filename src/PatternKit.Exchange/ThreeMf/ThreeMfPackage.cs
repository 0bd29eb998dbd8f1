namespace PatternKit.Exchange.ThreeMf;

/// <summary>Fixed names of the 3MF core specification 1.4.0 and of the package format (OPC) below it.</summary>
internal static class ThreeMfPackage
{
    public const string ContentTypesPart = "[Content_Types].xml";
    public const string RelationshipsPart = "_rels/.rels";
    public const string ModelPart = "3D/3dmodel.model";

    public const string ContentTypesNamespace = "http://schemas.openxmlformats.org/package/2006/content-types";
    public const string RelationshipsNamespace = "http://schemas.openxmlformats.org/package/2006/relationships";
    public const string CoreNamespace = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";

    public const string ModelRelationship = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel";
    public const string RelationshipsType = "application/vnd.openxmlformats-package.relationships+xml";
    public const string ModelType = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml";
}
