package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/files"
	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/geom"
	"gridswing/geom/stl"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/offsets"
	"gridswing/machine/check/posted"
	"gridswing/machine/check/proof"
	"gridswing/machine/program"

	"github.com/spf13/cobra"
)

// programOptions are the flags that a posted program brings.
type programOptions struct {
	file  string   // "": none is looked at
	stock string   // where to write what is left; "": nowhere
	after lineList // lines after which the stock is wanted
	cell  float64
	brief bool // what lengths tools may have is not looked for
	drawn bool // pictures are
	// opened is told the name of each file that is called from the program's own, before it is
	// opened; nil: nobody wants to know.
	opened func(name string)
}

// flags defines them.
func (o *programOptions) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.file, "program", "", "look at the posted program in `FILE`, too, move by move")
	f.StringVar(&o.stock, "stock", "", "write what the program leaves of the stock into `FILE.stl`, in mm, in the stock's own coordinates")
	f.Var(&o.after, "after", "show the stock as it is after these `LINES`, such as 1200,3400: a picture with --pictures, a file with --stock")
	f.Float64Var(&o.cell, "cell", 0, "hold the stock in cells of `MM`: smaller is finer and slower (default by its size)")
	if err := errors.Join(cmd.MarkFlagFilename("program"), cmd.MarkFlagFilename("stock", "stl")); err != nil {
		panic(err) // the flag is not defined: a mistake in this package
	}
	for _, name := range []string{"after", "cell"} {
		completeBy(cmd, name, cobra.NoFileCompletions)
	}
}

// refuse returns what is wrong with the call.
func (o *programOptions) refuse(cmd *cobra.Command, setups []string, pictures string) error {
	flags := cmd.Flags()
	if o.file == "" {
		for _, name := range []string{"program", "stock", "after", "cell"} {
			if f := flags.Lookup(name); f != nil && f.Changed {
				return wrong(helpHint(cmd), "--%s: found no program, expected --program FILE", name)
			}
		}
		return nil
	}
	switch {
	case len(setups) > 1:
		return wrong(helpHint(cmd), "--program: found %d setups, expected one", len(setups))
	case o.stock != "" && !strings.EqualFold(filepath.Ext(o.stock), ".stl"):
		return wrong("", "--stock: found %q, expected a name that ends in .stl", o.stock)
	case flags.Changed("cell") && !(o.cell >= leastCell && o.cell <= mostCell):
		return wrong("", "--cell: found %g, expected %g to %g mm", o.cell, leastCell, mostCell)
	case len(o.after) > 0 && o.stock == "" && pictures == "":
		return wrong(helpHint(cmd), "--after: found nowhere to show the stock, expected --pictures DIR or --stock FILE.stl")
	}
	return o.refuseFolder()
}

// refuseFolder returns what is wrong with the folder that the stock is to be written into: that is told
// before a long program is looked at.
func (o *programOptions) refuseFolder() error {
	if o.stock == "" {
		return nil
	}
	dir := filepath.Dir(o.stock)
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return wrong("", "--stock: found no folder %s, expected one to write %s into", dir, filepath.Base(o.stock))
	}
	return nil
}

// Cells of the stock, mm.
const (
	leastCell = 0.02
	mostCell  = 20.0
)

// fits returns what is wrong with the size of cells: that the stock would take too much memory.
func (o *programOptions) fits(s *machine.Setup) error {
	if o.file == "" || o.cell == 0 {
		return nil
	}
	if need := posted.Memory(s, o.cell); need > posted.MostMemory {
		return wrong("", "--cell: found %g mm, with which the stock of %s takes about %.1f GB of memory, expected %.4g mm or more, for at most %g GB",
			o.cell, s.File, need/1e9, posted.LeastCell(s, posted.MostMemory), posted.MostMemory/1e9)
	}
	return nil
}

// look looks at the program and adds to the report what is found, after all other checks.
func (o *programOptions) look(ctx context.Context, s *machine.Setup, r *check.Report, how proof.Options) (*posted.Result, error) {
	var used *program.Used
	out, err := o.through(ctx, s, r, how, posted.Options{After: o.after, NoWindow: o.brief, NoRemaining: o.stock == "" && !o.drawn}, &used)
	if err != nil {
		return nil, err
	}
	if f := r.Program.Fault; f != nil && r.Program.Moves == 0 && r.Program.Blocks == 0 {
		return nil, fmt.Errorf("%s:%d:%d: found %s, expected %s", f.File, f.Line, f.Column, f.Found, f.Expected)
	}
	posted.Compare(s, r, used)
	return out, nil
}

// through opens the program and has it looked at; used is what it moved with.
func (o *programOptions) through(ctx context.Context, s *machine.Setup, r *check.Report, how proof.Options, po posted.Options, used **program.Used) (*posted.Result, error) {
	f, err := os.Open(o.file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return nil, fmt.Errorf("%s: found a folder, expected a program", o.file)
	}
	format, err := formatOf(f)
	if err != nil {
		return nil, err
	}
	steps, err := o.open(f, format, s, r.Offsets, po.After)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.MachineFile, err)
	}
	if again := len(po.After) > 0 && used == nil; again {
		steps = &upTo{Steps: steps, file: o.file, last: slices.Max(po.After)}
	}
	po.Options, po.Cell = how, o.cell
	out, err := posted.Check(ctx, s, r, posted.Program{File: o.file, Format: format, Steps: steps, Size: info.Size()}, po)
	if err == nil && format == check.CutterLocation {
		r.Program.Assumed = append(r.Program.Assumed, program.Assumed()...)
	}
	if used != nil {
		*used = steps.Used()
	}
	return out, err
}

// open begins to read the program. What nobody has keyed in is what is computed for the setup.
func (o *programOptions) open(f *os.File, format string, s *machine.Setup, computed *check.Offsets, marks []int) (program.Steps, error) {
	if format == check.CutterLocation {
		if len(s.Parts) > 1 {
			return nil, fmt.Errorf("%d parts, expected one: %s does not say in whose coordinates its locations are", len(s.Parts), o.file)
		}
		return program.OpenLocations(o.file, f, s, 0, marks...)
	}
	if computed == nil {
		if table, err := offsets.Of(s, nil); err == nil {
			computed = table
		}
	}
	folder := filepath.Dir(o.file)
	return program.Open(o.file, f, s, posted.Values(s, computed), program.Options{Marks: marks, Open: func(name string) (io.ReadCloser, error) {
		if name = filepath.Join(folder, name); o.opened != nil {
			o.opened(name)
		}
		return os.Open(name)
	}})
}

// upTo is a program up to a line of its own file.
type upTo struct {
	program.Steps
	file string
	last int
}

// Next returns the next step; past the line the program is at its end.
func (u *upTo) Next() (*program.Step, error) {
	st, err := u.Steps.Next()
	if err == nil && st.Place.File == u.file && st.Place.Line > u.last {
		return nil, io.EOF
	}
	return st, err
}

// formatOf tells the format of a program by how it begins, and goes back to its beginning.
func formatOf(f io.ReadSeeker) (string, error) {
	head := make([]byte, 1<<16)
	n, err := io.ReadFull(f, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return "", err
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		return "", err
	}
	for line := range bytes.Lines(head[:n]) {
		if format := formatOfLine(strings.TrimSpace(string(line))); format != "" {
			return format, nil
		}
	}
	return check.WordAddress, nil
}

// majorWords are words of cutter location records (ISO 4343) that may stand without a stroke behind them.
var majorWords = []string{"PARTNO", "MULTAX", "FINI", "END", "REMARK", "PPRINT"}

// formatOfLine returns the format of a program in which such a line stands, "" if it does not tell.
func formatOfLine(line string) string {
	if line == "" || strings.HasPrefix(line, "$$") {
		return ""
	}
	word := line
	if i := strings.IndexFunc(line, func(r rune) bool { return r < 'A' || r > 'Z' }); i >= 0 {
		word = line[:i]
	}
	rest := strings.TrimLeft(line[len(word):], " \t")
	if len(word) >= 3 && (strings.HasPrefix(rest, "/") || slices.Contains(majorWords, word)) {
		return check.CutterLocation
	}
	return check.WordAddress
}

// stocks are the pictures' stocks: those that were found, and those where the worst findings are, for which
// the program is gone through once more.
func (o *programOptions) stocks(ctx context.Context, s *machine.Setup, r *check.Report, found *posted.Result, how proof.Options) (*pictures.Stocks, error) {
	out := &pictures.Stocks{Remaining: found.Remaining, At: map[int][]*geom.Mesh{}}
	for i, line := range o.after {
		if i < len(found.After) {
			out.After = append(out.After, pictures.StockAfter{Line: line, Meshes: found.After[i]})
		}
	}
	lines := pictures.Lines(r)
	if len(lines) == 0 || !slices.ContainsFunc(found.Remaining, func(m *geom.Mesh) bool { return m != nil }) {
		return out, nil
	}
	again, err := o.through(ctx, s, check.NewReport(s), how, posted.Options{After: lines, NoWindow: true, NoRemaining: true}, nil)
	if err != nil {
		return nil, err
	}
	for i, line := range lines {
		if i < len(again.After) {
			out.At[line] = again.After[i]
		}
	}
	return out, nil
}

// lines is how many lines the program's own file has.
func (o *programOptions) lines() (n int, err error) {
	f, err := os.Open(o.file)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	buffer, last := make([]byte, 1<<16), byte('\n')
	for {
		k, err := f.Read(buffer)
		if k > 0 {
			n += bytes.Count(buffer[:k], []byte{'\n'})
			last = buffer[k-1]
		}
		if err == io.EOF {
			if last != '\n' {
				n++
			}
			return n, nil
		}
		if err != nil {
			return 0, err
		}
	}
}

// notMet returns what is wrong with lines after which there is no stock: the program does not come by them.
func (o *programOptions) notMet(found *posted.Result) error {
	var missing, beyond []string
	there, err := o.lines()
	if err != nil {
		return err
	}
	for i, line := range o.after {
		switch {
		case i < len(found.After) && slices.ContainsFunc(found.After[i], func(m *geom.Mesh) bool { return m != nil }):
		case line > there:
			beyond = append(beyond, fmt.Sprint(line))
		default:
			missing = append(missing, fmt.Sprint(line))
		}
	}
	var faults []error
	if len(beyond) > 0 {
		faults = append(faults, wrong("", "--after: found %s, expected lines of %s, which has %d", strings.Join(beyond, ", "), o.file, there))
	}
	if len(missing) > 0 {
		faults = append(faults, wrong("", "--after: found %s, expected lines that %s comes by and goes on from, as far as it could be read", strings.Join(missing, ", "), o.file))
	}
	return errors.Join(faults...)
}

// writeStock writes what is left, and what is left after lines, and returns the files' names.
func (o *programOptions) writeStock(ctx context.Context, s *machine.Setup, found *posted.Result) (names []string, err error) {
	if o.stock == "" {
		return nil, nil
	}
	ext := filepath.Ext(o.stock)
	stem := strings.TrimSuffix(o.stock, ext)
	write := func(stem string, meshes []*geom.Mesh) error {
		for part, m := range meshes {
			name := stem + ext
			if len(s.Parts) > 1 {
				name = fmt.Sprintf("%s-%d%s", stem, part+1, ext)
			}
			if m == nil {
				continue
			}
			var b bytes.Buffer
			if err := errors.Join(stl.Encode(&b, m), ctx.Err()); err != nil {
				return err
			}
			if err := files.Write(name, b.Bytes()); err != nil {
				return err
			}
			names = append(names, name)
		}
		return nil
	}
	if err := write(stem, found.Remaining); err != nil {
		return names, err
	}
	for i, line := range o.after {
		if i < len(found.After) {
			if err := write(fmt.Sprintf("%s-after-%d", stem, line), found.After[i]); err != nil {
				return names, err
			}
		}
	}
	if len(names) == 0 {
		return nil, wrong("", "--stock: found no part whose stock is modelled, expected [[part]] tables in %s", s.File)
	}
	return names, nil
}
