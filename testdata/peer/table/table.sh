#!/usr/bin/env bash
# Prints package collide beside the library as Markdown. Builds the harness, the
# program here and gridswing, fetches three-mesh-bvh from npm into the scratch folder.
#
#   testdata/peer/table/table.sh                          everything, some minutes
#   testdata/peer/table/table.sh -only pairs,sweep        some of it
#   testdata/peer/table/table.sh -cpuprofile FILE ...     with a profile of our side
#
# Needs what ../harness/build.sh needs, and Node.js with npm. SCRATCH names a folder
# to keep, with its meshes, for the next time.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
scratch=${SCRATCH:-}
if [ -z "$scratch" ]; then
	scratch=$(mktemp -d)
	trap 'rm -rf "$scratch"' EXIT
fi
mkdir -p "$scratch/meshes"
"$here/../harness/build.sh" "$scratch" >&2
(cd "$here" && go build -buildvcs=auto -o "$scratch/table" . && go build -o "$scratch/gridswing" gridswing/cmd/gridswing)
if [ ! -d "$scratch/node_modules/three-mesh-bvh" ]; then
	echo '{"private": true}' >"$scratch/package.json"
	(cd "$scratch" && npm install --no-audit --no-fund --ignore-scripts three-mesh-bvh@0.9.17 three@0.187.0 >&2)
fi
cp "$here/bvh.mjs" "$scratch/meshes/"
"$scratch/table" -dir "$scratch/meshes" -harness "$scratch/harness" -modules "$scratch/node_modules" \
	-gridswing "$scratch/gridswing" "$@"
