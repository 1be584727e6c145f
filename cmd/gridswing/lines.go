package main

import (
	"fmt"
	"strconv"
	"strings"
)

// lineList is a flag of lines of a program, such as 1200,3400; it can be given several times.
type lineList []int

// Set adds lines.
func (l *lineList) Set(text string) error {
	for field := range strings.SplitSeq(text, ",") {
		line, err := strconv.Atoi(strings.TrimSpace(field))
		if err != nil || line < 1 {
			return fmt.Errorf("found %q, expected numbers of lines from 1, such as 1200,3400", field)
		}
		*l = append(*l, line)
	}
	return nil
}

// String writes them as they are given.
func (l *lineList) String() string {
	list := make([]string, len(*l))
	for i, line := range *l {
		list[i] = strconv.Itoa(line)
	}
	return strings.Join(list, ",")
}

// Type is what the flag is called in the help.
func (l *lineList) Type() string { return "LINES" }
