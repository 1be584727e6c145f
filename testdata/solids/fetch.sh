#!/usr/bin/env bash
# Fetches the reference solids that may not be passed on into a directory:
#
#   testdata/solids/fetch.sh DIR
#
# DIR/npm holds npm packages, DIR/deb unpacked Debian packages (release 12; other
# releases have other versions, whose models may differ). Needs npm, node and apt-get.
set -euo pipefail

if [ $# -ne 1 ]; then
	echo "usage: $0 DIR" >&2
	exit 2
fi
mkdir -p "$1"
cd "$1"
rm -rf npm deb
mkdir npm deb

for package in bunny@1.0.1 stl-models@0.12.0 node-stl@0.7.3; do
	archive=$(cd npm && npm pack --silent "$package")
	mkdir "npm/${package%@*}"
	tar -xzf "npm/$archive" -C "npm/${package%@*}" --strip-components=1
	rm "npm/$archive"
done

# The package bunny holds positions and cells as JavaScript: write them as STL text.
(cd npm/bunny && node -e '
	const mesh = require("./index.js")
	const vertex = i => "vertex " + mesh.positions[i].join(" ") + "\n"
	const facet = cell => "facet normal 0 0 0\nouter loop\n" + cell.map(vertex).join("") + "endloop\nendfacet\n"
	process.stdout.write("solid bunny\n" + mesh.cells.map(facet).join("") + "endsolid bunny\n")
' >bunny.stl)

debs=(libcgal-demo lib3mf-doc assimp-testmodels openscad-testing-data)
# apt-get as root hands downloads to a user who may not write here: a harmless warning.
(cd deb && apt-get download -q "${debs[@]}" 2>&1)
for deb in deb/*.deb; do
	dpkg-deb -x "$deb" deb
	rm "$deb"
done
tar -xzf deb/usr/share/doc/libcgal-dev/data.tar.gz -C deb
