// Package specimen makes reports that have everything in them, for tests of what is
// written of a report: no check has found them. Machine, part and tools are invented.
package specimen
