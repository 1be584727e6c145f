// Package changeover tells how to get from one setup to another on the same machine:
// what comes off, what stays, what goes on, in steps that somebody can follow, and
// whether each thing that is moved stays clear of all that stands there.
//
// Start with Make. The order is the user's, or that of support; it is checked, not
// searched for. Neither setup is checked as such here.
package changeover
