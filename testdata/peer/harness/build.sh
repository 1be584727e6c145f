#!/usr/bin/env bash
# Builds the harness into the directory given, never into the repository.
# Needs g++, pkg-config and Debian's libfcl-dev and libeigen3-dev.
set -euo pipefail
if [ $# -ne 1 ]; then
	echo "usage: $0 DIRECTORY" >&2
	exit 2
fi
here=$(cd "$(dirname "$0")" && pwd)
mkdir -p "$1"
flags=$(pkg-config --cflags --libs fcl)
# -std comes last: the library's own flags ask for an older standard.
# shellcheck disable=SC2086 # the flags are words
g++ -O3 -DNDEBUG -Wall -Wextra -o "$1/harness.tmp" "$here/harness.cpp" $flags -std=c++17
mv "$1/harness.tmp" "$1/harness"
