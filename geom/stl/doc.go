// Package stl reads and writes solids as STL, binary and ASCII.
//
// Start with ReadFile; Decode does the same for bytes in memory, ReadFS for a
// file system such as the embedded demo. WriteFile, Encode and EncodeText write.
//
// The format has no published standard beyond the description by the Albert
// Consulting Group for 3D Systems, 1989. What this package makes of it:
//
//   - A file of exactly 84 + 50 n bytes, n being the count at byte 80, is
//     binary, whatever its first word. Otherwise it is ASCII if it begins with
//     "solid" and holds no NUL byte near its beginning.
//   - Normals are ignored, even missing or NaN ones; the order of the corners
//     says which side is outside. Attribute words, headers and names are ignored.
//   - ASCII: any letter case, any line ending, tabs and spaces at will, several
//     solids in one file (joined). "endsolid" is the only sign that the file is
//     whole, so a file without it is refused.
//   - Binary: further solids behind the first, each with its own header, are
//     joined to it. Other bytes behind the facets are ignored, unless they look
//     like facets that the count leaves out.
//   - Refused: a truncated file, a count that the size contradicts, a corner that
//     is NaN, infinite or beyond float32, a facet of other than three corners, no
//     facets. Every refusal is an *Error that says where.
//
// STL states no unit. Coordinates are handed on as they stand in the file; who
// names the file knows the unit (geom.Unit). Whether the solid is closed and
// the right way out is for geom.AuditOf to say.
package stl
