package main

import "runtime/debug"

// release is the version of this program; builds between releases are told
// apart by their revision.
const release = "0.1.0"

// version returns the release and, where the build knows it, the revision.
func version() string {
	v := release
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return v
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			v += ", revision " + s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			v += ", changed since"
		}
	}
	return v
}
