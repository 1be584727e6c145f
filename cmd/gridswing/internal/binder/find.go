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
	"unicode/utf8"
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
	list, err := once(list)
	faults = append(faults, err)
	slices.SortStableFunc(list, func(a, b item) int { return strings.Compare(a.name, b.name) })
	return list, errors.Join(append(faults, collisions(o, list)...)...)
}

// once takes each file once: by the longest of its names, that from the topmost folder.
func once(list []item) (own []item, err error) {
	found := map[string]int{} // by absolute path, where in own
	for _, it := range list {
		whole, err := filepath.Abs(it.file)
		if err != nil {
			return nil, err
		}
		i, known := found[whole]
		switch {
		case !known:
			found[whole] = len(own)
			own = append(own, it)
		case len(it.name) > len(own[i].name):
			own[i] = it
		}
	}
	return own, nil
}

// stem is a name without ".toml".
func stem(name string) string {
	if ending := path.Ext(name); strings.EqualFold(ending, ".toml") {
		return strings.TrimSuffix(name, ending)
	}
	return name
}

// findBelow lists the setups in a folder, the binder left out. What cannot be read might be one.
// Links to folders below it are not followed: they may lead round in circles.
func findBelow(dir, out string) (list []item, err error) {
	binder, _ := os.Stat(out) // nil: it is not there as yet
	isBinder := func(d fs.DirEntry) bool {
		info, err := d.Info()
		return err == nil && binder != nil && os.SameFile(info, binder)
	}
	inBinder := false
	err = fs.WalkDir(os.DirFS(dir), ".", func(name string, d fs.DirEntry, err error) error {
		it := item{name: stem(name), file: filepath.Join(dir, filepath.FromSlash(name))}
		switch {
		case err != nil && name == ".":
			return at(dir, err)
		case err != nil: // a folder that cannot be read
			it.fault = at(it.file, err)
			list = append(list, it)
			return nil
		case name == ".":
			inBinder = isBinder(d)
			return nil
		case d.IsDir() && (isBinder(d) || inBinder && name == folder):
			return fs.SkipDir
		case d.IsDir() || d.Type()&(fs.ModeNamedPipe|fs.ModeSocket|fs.ModeDevice) != 0 || !strings.EqualFold(path.Ext(name), ".toml"):
			return nil
		}
		data, err := os.ReadFile(it.file)
		switch it.fault = err; {
		case err != nil:
		case !isSetup(data):
			return nil
		case !utf8.ValidString(name):
			it.fault = fmt.Errorf("%s: found %q for a name, expected one in UTF-8", it.file, name)
		}
		list = append(list, it)
		return nil
	})
	return list, err
}

// at is what the system says of a file, with its whole name.
func at(file string, err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return &fs.PathError{Op: p.Op, Path: file, Err: p.Err}
	}
	return err
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

// taken says of which setup file each page of the binder is, "" of its own. The names of pages are
// in small letters, for systems that do not tell them from capitals.
func taken(o *Options, list []item) map[string]string {
	pages := map[string]string{}
	for _, own := range []string{frontName + ".html", frontName + ".pdf", summaryName, junitName} {
		pages[own] = ""
	}
	for _, it := range list {
		for _, ending := range o.Endings {
			if page := strings.ToLower(it.name + ending); !has(pages, page) {
				pages[page] = it.file
			}
		}
	}
	return pages
}

func has(pages map[string]string, page string) bool {
	_, known := pages[page]
	return known
}

// collisions returns what is wrong with names: two pages of one name.
func collisions(o *Options, list []item) (faults []error) {
	pages := taken(o, list)
	for _, it := range list {
		if first, _, _ := strings.Cut(it.name, "/"); strings.EqualFold(first, folder) {
			faults = append(faults, fmt.Errorf("%s: its pages would be in %s, expected another name of the folder", it.file, path.Join(o.Out, folder)))
			continue
		}
		for _, ending := range o.Endings {
			other := pages[strings.ToLower(it.name+ending)]
			if other == it.file {
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
