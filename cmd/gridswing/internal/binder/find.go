package binder

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// item is a setup that was found.
type item struct {
	name, file string // see Job
	fault      error  // why it cannot be told what it is
}

// find lists the setups of the call, by name.
func find(o *Options) ([]item, error) {
	var list []item
	var faults []error
	for _, arg := range o.Args {
		info, err := os.Stat(arg)
		switch {
		case err != nil:
			faults = append(faults, err)
		case info.IsDir():
			below, err := findBelow(arg, o.Out)
			if err == nil && len(below) == 0 {
				err = fmt.Errorf("%s: found no setup, expected TOML files with kind = \"setup\"", arg)
			}
			if err != nil {
				faults = append(faults, err)
			}
			list = append(list, below...)
		default:
			list = append(list, item{name: stem(filepath.Base(arg)), file: arg})
		}
	}
	slices.SortStableFunc(list, func(a, b item) int { return strings.Compare(a.name, b.name) })
	list = slices.CompactFunc(list, func(a, b item) bool { return a.name == b.name && sameFile(a.file, b.file) })
	return list, errors.Join(append(faults, collisions(o, list)...)...)
}

// stem is a name without ".toml".
func stem(name string) string {
	if ending := path.Ext(name); strings.EqualFold(ending, ".toml") {
		return strings.TrimSuffix(name, ending)
	}
	return name
}

func sameFile(a, b string) bool {
	x, err := filepath.Abs(a)
	if err != nil {
		return false
	}
	y, err := filepath.Abs(b)
	return err == nil && x == y
}

// findBelow lists the setups in a folder, the binder left out. What cannot be read might be one.
func findBelow(dir, out string) (list []item, err error) {
	binder, err := filepath.Abs(out)
	if err != nil {
		return nil, err
	}
	root, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	err = filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		relative, relErr := filepath.Rel(root, file)
		if relErr != nil {
			return relErr
		}
		it := item{name: stem(filepath.ToSlash(relative)), file: filepath.Join(dir, relative), fault: err}
		switch {
		case err != nil && relative == ".":
			return err
		case err != nil: // a folder that cannot be read
			list = append(list, it)
			return nil
		case d.IsDir():
			if file != root && file == binder || file == filepath.Join(binder, folder) {
				return fs.SkipDir
			}
			return nil
		case !strings.EqualFold(filepath.Ext(file), ".toml"):
			return nil
		}
		data, err := os.ReadFile(file)
		if it.fault = err; err != nil || isSetup(data) {
			list = append(list, it)
		}
		return nil
	})
	return list, err
}

// saysSetup is the line that makes a file a setup, whether or not the rest of the file can be
// read as TOML.
var saysSetup = regexp.MustCompile(`(?m)^[ \t]*("kind"|'kind'|kind)[ \t]*=[ \t]*("setup"|'setup')`)

// isSetup reports whether a file says, before its first table, that it is a setup.
func isSetup(data []byte) bool {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if i := firstTable.FindIndex(data); i != nil {
		data = data[:i[0]]
	}
	return saysSetup.Match(data)
}

var firstTable = regexp.MustCompile(`(?m)^[ \t]*\[`)

// collisions returns what is wrong with names: two files of one name, on systems that tell capitals
// from small letters and on others.
func collisions(o *Options, list []item) (faults []error) {
	taken := map[string]string{}
	for _, own := range []string{frontName + ".html", frontName + ".pdf", summaryName, junitName} {
		taken[own] = ""
	}
	for _, it := range list {
		if first, _, _ := strings.Cut(it.name, "/"); strings.EqualFold(first, folder) {
			faults = append(faults, fmt.Errorf("%s: its pages would be in %s, expected another name of the folder", it.file, path.Join(o.Out, folder)))
			continue
		}
		for _, ending := range o.Endings {
			file := strings.ToLower(it.name + ending)
			other, known := taken[file]
			if !known {
				taken[file] = it.file
				continue
			}
			if other == "" {
				other = "the front page or the summary"
			}
			faults = append(faults, fmt.Errorf("%s: its pages would be %s%s, as of %s: expected names that differ, or binders that do", it.file, it.name, ending, other))
			break
		}
	}
	return faults
}
