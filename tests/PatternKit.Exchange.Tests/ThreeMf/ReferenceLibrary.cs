using System.Runtime.InteropServices;

namespace PatternKit.Exchange.Tests.ThreeMf;

/// <summary>
/// The 3MF Consortium's own library (lib3mf 1.8, Debian package lib3mf1), through its C interface:
/// reads a package in strict mode and tells what it found.
/// </summary>
internal static class ReferenceLibrary
{
    private const string Library = "lib3MF.so.1";

    public sealed record Body(string Name, uint Vertices, uint Triangles, bool IsManifoldAndOriented, float[] Positions);

    /// <summary>Base materials by name and sRGB, and for every triangle of the first body the number of its material, −1 for none of them.</summary>
    public sealed record Colours(IReadOnlyList<(string Name, int Rgb)> Materials, IReadOnlyList<int> OfTriangle);

    public sealed record Content(uint Warnings, IReadOnlyList<Body> Bodies, int BuildItems);

    /// <summary>Skips the test aloud where the library is missing; fails it under CI=true.</summary>
    public static void Need()
    {
        // This function tells the interface of 1.8 from that of 2.
        if (NativeLibrary.TryLoad(Library, out var library) && NativeLibrary.TryGetExport(library, "lib3mf_object_getnameutf8", out _)) return;
        const string Why = "lib3MF 1.8 is not installed (Debian package lib3mf1).";
        if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(Why);
        Assert.Skip(Why);
    }

    public static Content Read(byte[] package)
    {
        Check(lib3mf_createmodel(out var model), 0);
        Check(lib3mf_model_queryreader(model, "3mf", out var reader), model);
        Check(lib3mf_reader_setstrictmodeactive(reader, 1), reader);
        Check(lib3mf_reader_readfrombuffer(reader, package, (ulong)package.Length), reader);
        Check(lib3mf_reader_getwarningcount(reader, out var warnings), reader);
        Check(lib3mf_model_getmeshobjects(model, out var objects), model);
        var bodies = new List<Body>();
        while (HasNext(objects, lib3mf_resourceiterator_movenext))
        {
            Check(lib3mf_resourceiterator_getcurrent(objects, out var mesh), objects);
            var name = new byte[256];
            Check(lib3mf_object_getnameutf8(mesh, name, (uint)name.Length, out var length), mesh);
            Check(lib3mf_meshobject_getvertexcount(mesh, out var vertices), mesh);
            Check(lib3mf_meshobject_gettrianglecount(mesh, out var triangles), mesh);
            Check(lib3mf_meshobject_ismanifoldandoriented(mesh, out var manifold), mesh);
            var positions = new float[3 * vertices];
            Check(lib3mf_meshobject_getvertices(mesh, positions, vertices, out _), mesh);
            bodies.Add(new(System.Text.Encoding.UTF8.GetString(name, 0, Array.IndexOf(name, (byte)0)), vertices, triangles, manifold != 0, positions));
            Check(lib3mf_release(mesh), 0);
        }

        Check(lib3mf_model_getbuilditems(model, out var items), model);
        var count = 0;
        while (HasNext(items, lib3mf_builditemiterator_movenext)) count++;
        foreach (var handle in (ReadOnlySpan<nint>)[items, objects, reader, model]) Check(lib3mf_release(handle), 0);
        return new(warnings, bodies, count);
    }

    public static Colours ReadColours(byte[] package)
    {
        Check(lib3mf_createmodel(out var model), 0);
        Check(lib3mf_model_queryreader(model, "3mf", out var reader), model);
        Check(lib3mf_reader_setstrictmodeactive(reader, 1), reader);
        Check(lib3mf_reader_readfrombuffer(reader, package, (ulong)package.Length), reader);
        Check(lib3mf_model_getbasematerials(model, out var groups), model);
        Assert.True(HasNext(groups, lib3mf_resourceiterator_movenext));
        Check(lib3mf_resourceiterator_getcurrent(groups, out var group), groups);
        Check(lib3mf_basematerial_getcount(group, out var count), group);
        var materials = new List<(string, int)>();
        for (uint i = 0; i < count; i++)
        {
            var name = new byte[256];
            Check(lib3mf_basematerial_getnameutf8(group, i, name, (uint)name.Length, out _), group);
            Check(lib3mf_basematerial_getdisplaycolor(group, i, out var red, out var green, out var blue, out _), group);
            materials.Add((System.Text.Encoding.UTF8.GetString(name, 0, Array.IndexOf(name, (byte)0)), (red << 16) | (green << 8) | blue));
        }

        Check(lib3mf_basematerial_getresourceid(group, out var groupId), group);
        Check(lib3mf_model_getmeshobjects(model, out var objects), model);
        Assert.True(HasNext(objects, lib3mf_resourceiterator_movenext));
        Check(lib3mf_resourceiterator_getcurrent(objects, out var mesh), objects);
        Check(lib3mf_meshobject_gettrianglecount(mesh, out var triangles), mesh);
        Check(lib3mf_meshobject_createpropertyhandler(mesh, out var handler), mesh);
        var of = new List<int>();
        for (uint t = 0; t < triangles; t++)
        {
            Check(lib3mf_propertyhandler_getbasematerial(handler, t, out var resource, out var index), handler);
            of.Add(resource == groupId ? (int)index : -1);
        }

        foreach (var handle in (ReadOnlySpan<nint>)[handler, mesh, objects, group, groups, reader, model]) Check(lib3mf_release(handle), 0);
        return new(materials, of);
    }

    private delegate int MoveNext(nint iterator, out int hasNext);

    private static bool HasNext(nint iterator, MoveNext move)
    {
        Check(move(iterator, out var next), iterator);
        return next != 0;
    }

    private static void Check(int result, nint instance)
    {
        if (result == 0) return;
        var message = "";
        if (instance != 0 && lib3mf_getlasterror(instance, out var code, out var text) == 0) message = $"{code:x} {Marshal.PtrToStringUTF8(text)}";
        Assert.Fail($"lib3MF refuses: {result:x} {message}");
    }

    [DllImport(Library)]
    private static extern int lib3mf_createmodel(out nint model);

    [DllImport(Library)]
    private static extern int lib3mf_release(nint instance);

    [DllImport(Library)]
    private static extern int lib3mf_getlasterror(nint instance, out uint code, out nint message);

    [DllImport(Library, CharSet = CharSet.Ansi, BestFitMapping = false, ThrowOnUnmappableChar = true)]
    private static extern int lib3mf_model_queryreader(nint model, string kind, out nint reader);

    [DllImport(Library)]
    private static extern int lib3mf_reader_setstrictmodeactive(nint reader, int strict);

    [DllImport(Library)]
    private static extern int lib3mf_reader_readfrombuffer(nint reader, byte[] buffer, ulong size);

    [DllImport(Library)]
    private static extern int lib3mf_reader_getwarningcount(nint reader, out uint count);

    [DllImport(Library)]
    private static extern int lib3mf_model_getmeshobjects(nint model, out nint iterator);

    [DllImport(Library)]
    private static extern int lib3mf_model_getbuilditems(nint model, out nint iterator);

    [DllImport(Library)]
    private static extern int lib3mf_resourceiterator_movenext(nint iterator, out int hasNext);

    [DllImport(Library)]
    private static extern int lib3mf_builditemiterator_movenext(nint iterator, out int hasNext);

    [DllImport(Library)]
    private static extern int lib3mf_resourceiterator_getcurrent(nint iterator, out nint resource);

    [DllImport(Library)]
    private static extern int lib3mf_object_getnameutf8(nint item, byte[] buffer, uint size, out uint needed);

    [DllImport(Library)]
    private static extern int lib3mf_model_getbasematerials(nint model, out nint iterator);

    [DllImport(Library)]
    private static extern int lib3mf_basematerial_getcount(nint group, out uint count);

    [DllImport(Library)]
    private static extern int lib3mf_basematerial_getnameutf8(nint group, uint index, byte[] buffer, uint size, out uint needed);

    [DllImport(Library)]
    private static extern int lib3mf_basematerial_getdisplaycolor(nint group, uint index, out byte red, out byte green, out byte blue, out byte alpha);

    [DllImport(Library)]
    private static extern int lib3mf_basematerial_getresourceid(nint resource, out uint id);

    [DllImport(Library)]
    private static extern int lib3mf_meshobject_createpropertyhandler(nint mesh, out nint handler);

    [DllImport(Library)]
    private static extern int lib3mf_propertyhandler_getbasematerial(nint handler, uint triangle, out uint resource, out uint index);

    [DllImport(Library)]
    private static extern int lib3mf_meshobject_getvertexcount(nint mesh, out uint count);

    [DllImport(Library)]
    private static extern int lib3mf_meshobject_gettrianglecount(nint mesh, out uint count);

    [DllImport(Library)]
    private static extern int lib3mf_meshobject_ismanifoldandoriented(nint mesh, out int yes);

    [DllImport(Library)]
    private static extern int lib3mf_meshobject_getvertices(nint mesh, float[] vertices, uint size, out uint count);
}
