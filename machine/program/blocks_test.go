package program

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"gridswing/machine"
)

// readBlocks returns the blocks of a program as letters and values, one line each, and why it ended.
// M98 P L and M99 are followed.
func readBlocks(t *testing.T, b *blocks) (string, error) {
	t.Helper()
	var out strings.Builder
	for n := 0; ; n++ {
		if n > 10000 {
			t.Fatal("no end")
		}
		block, err := b.next()
		if err != nil {
			return out.String(), err
		}
		value := map[byte]float64{'L': 1}
		code := 0.0
		for i, w := range block.Words {
			if i > 0 {
				out.WriteByte(' ')
			}
			fmt.Fprintf(&out, "%c%.6g", w.Letter, w.Value)
			if value[w.Letter] = w.Value; w.Letter == 'M' {
				code = w.Value
			}
		}
		out.WriteByte('\n')
		switch code {
		case 98:
			err = b.call(int(value['P']), int(value['L']), block.Place)
		case 99:
			err = b.back(block.Place)
		case 2, 30:
			b.close()
		}
		if err != nil {
			return out.String(), err
		}
	}
}

// files opens texts by name.
func files(texts map[string]string) func(string) (io.ReadCloser, error) {
	return func(name string) (io.ReadCloser, error) {
		text, ok := texts[name]
		if !ok {
			return nil, os.ErrNotExist
		}
		return io.NopCloser(strings.NewReader(text)), nil
	}
}

func TestBlocks(t *testing.T) {
	yes, no := true, false
	for _, c := range []struct {
		name, text string
		rules      machine.Control
		want       string
		fault      string // "" for none: line:column: and what was found
	}{
		// NISTIR 6556, section 3.3: blanks and case mean nothing, "g0x +0. 12 34y 7" is
		// "g0 x+0.1234 y7".
		{name: "blanks", text: "g0x +0. 12 34y 7\nM30\n", want: "G0 X0.1234 Y7\nM30\n"},
		{name: "points", text: "X.5 Y5. Z-.25\r\nM30\r\n", want: "X0.5 Y5 Z-0.25\nM30\n"},
		{name: "bracketed", text: "%\nO0001 (one)\nN10 G1 X1; to the end (of it\n\n(only this)\n%\nrubbish", want: "G1 X1\n"},
		{name: "many digits", text: "X0.12345678901234567890 Y123456789012345678\nM30\n", want: "X0.123457 Y1.23457e+17\nM30\n"},
		// What NISTIR 6556 gives as examples of section 3.3.2.
		{name: "order", text: "#1=[1+2*3-4/5] X#1\nM30\n", fault: "1:17: #1, which"},
		{name: "values first", text: "#3=6\n#3=15 G1 X#3\nX#3\nM30\n", want: "G1 X6\nX15\nM30\n"},
		{name: "operations", text: "X[1+2*3-4/5] Y[15.0-2*2**3] Z[2 ** 3.0] A[5 mod 3] B[-5 MOD 3] C[2-3-4]\nM30\n",
			want: "X6.2 Y-1 Z8 A2 B1 C-5\nM30\n"},
		{name: "functions", text: "X sin[30] Y ATAN[1]/[-1] ZACOS[0.5] A FIX[-2.8] B FUP[2.2] C ROUND[2.5] I EXP[LN[3]] J SQRT[ABS[-9]]\nM30\n",
			want: "X0.5 Y135 Z60 A-3 B3 C3 I3 J3\nM30\n"},
		{name: "logic", text: "X[1 AND 0] Y[2 OR 0] Z[1 XOR 3]\nM30\n", want: "X0 Y1 Z0\nM30\n"},
		{name: "indirect", text: "#1=2 #2=7\nX##1 Y#[#1 + 0.00001] Z-#2\nM30\n", want: "X7 Y7 Z-7\nM30\n"},
		{name: "names", text: "#<Dia meter>=12.5\nX#<diameter>\nM30\n", want: "X12.5\nM30\n"},
		{name: "left out", text: "/X1\n/ ( \nM30\n", rules: machine.Control{BlockDelete: &yes}, want: "M30\n"},
		{name: "not left out", text: "/X1\nM30\n", rules: machine.Control{BlockDelete: &no}, want: "X1\nM30\n"},
		{name: "not stated", text: "G0\n /X1\nM30\n", want: "G0\n", fault: "2:2: /"},

		{name: "no number", text: "G0 X Y5\n", fault: "1:6: \"Y\""},
		{name: "no number at the end", text: "G0 X\n", fault: "1:5: the end of the line"},
		{name: "two points", text: "X1.2.3\n", fault: "1:5: a second point"},
		{name: "two signs", text: "X--1\n", fault: "1:3: '-' after X"},
		{name: "no digits", text: "X.\n", fault: "1:2: '.' after X"},
		{name: "twice", text: "X1 Y2 X3\n", fault: "1:7: X3, a second X"},
		{name: "open comment", text: "X1 (to here\nM30\n", fault: "1:4: a comment that does not end"},
		{name: "comment in comment", text: "X1 (to (here)\nM30\n", fault: "1:8: a second ("},
		{name: "hidden line", text: "X1 ; to here\rX2\nM30\n", fault: "1:13: '\\r' in a comment"},
		{name: "checksum", text: "G0 X1 *71\n", fault: "1:7: '*'"},
		{name: "binary", text: "\x00\x01\x02", fault: "1:1: a NUL byte"},
		{name: "not text", text: "X1 \xff\n", fault: "1:4: byte 0xFF"},
		{name: "block number", text: "G0 N10\n", fault: "1:4: N10"},
		{name: "flow", text: "N5 IF [1 GT 2] GOTO 10\n", fault: "1:4: flow control (IF)"},
		{name: "jump", text: "goto 10\n", fault: "1:1: flow control (GOTO)"},
		{name: "o-flow", text: "O100 while [#1 LT 3]\n", fault: "1:6: flow control (WHILE)"},
		{name: "o-name", text: "O<probe> call\n", fault: "1:1: a subprogram with a name"},
		{name: "by zero", text: "X[1/[1-1]]\n", fault: "1:4: 1 / 0, which has no value"},
		{name: "root", text: "X SQRT[-1]\n", fault: "1:3: SQRT[-1], which has no value"},
		{name: "power", text: "X[[0-8]**[1/3]]\n", fault: "1:8: -8 ** 0.3333333333333333"},
		{name: "sign before power", text: "X[-2**2]\n", fault: "1:3: a sign before a power"},
		{name: "unset", text: "X#7\n", fault: "1:2: #7, which"},
		{name: "of the control", text: "#5221=10\n", fault: "1:1: variable #5221"},
		{name: "half an index", text: "#1.5=10\n", fault: "1:1: variable #1.5"},
		{name: "open bracket", text: "X[1+2\n", fault: "1:6: the end of the line"},
		{name: "deep", text: "X" + strings.Repeat("[", 60) + "\n", fault: "1:52: brackets in"},
		{name: "deep variable", text: "X" + strings.Repeat("#", 9999) + "\n", fault: "1:52: variables of"},

		{name: "empty", text: "", fault: "1:1: the end of the file and no block"},
		{name: "only %", text: "%\n%\n", fault: "2:1: a second %"},
		{name: "cut off", text: "G0 X1\nX2\n", want: "G0 X1\nX2\n", fault: "3:1: the end of the file"},
		{name: "cut off in a block", text: "G0 X1\nX2", want: "G0 X1\n", fault: "2:3: the end of the file in a line"},
		{name: "cut off before %", text: "%\nG0 X1\n", want: "G0 X1\n", fault: "3:1: the end of the file"},
		{name: "end without line end", text: "X1\nM30", want: "X1\nM30\n"},
		{name: "unexpected %", text: "X1\n%\n", want: "X1\n", fault: "2:1: % in a program"},
		{name: "runs on", text: "O1\nX1\nO2\nM30\n", want: "X1\n", fault: "3:1: O2, where another"},
		{name: "long line", text: strings.Repeat("( )", 40000), fault: "1:1: a line of more than"},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.rules.Expressions = true
			got, err := readBlocks(t, newBlocks("p.nc", strings.NewReader(c.text), nil, &c.rules))
			expectBlocks(t, got, c.want, err, "p.nc:", c.fault)
		})
	}
}

// expectBlocks compares what was read; an error must be a Fault that begins by fault.
func expectBlocks(t *testing.T, got, want string, err error, file, fault string) {
	t.Helper()
	if fault == "" && err != io.EOF {
		t.Fatalf("%v", err)
	}
	if got != want && (fault == "" || want != "") {
		t.Errorf("read\n%swant\n%s", got, want)
	}
	if fault == "" {
		return
	}
	var f *Fault
	if !errors.As(err, &f) {
		t.Fatalf("error %v, want a fault %s", err, fault)
	}
	if where := fmt.Sprintf("%s%d:%d: %s", file, f.Line, f.Column, f.Found); !strings.HasPrefix(f.File+":"+strings.TrimPrefix(where, file), file+fault) {
		t.Errorf("fault %v, want %s%s", err, file, fault)
	}
}

func TestCalls(t *testing.T) {
	own := "%\nO1 (main)\nX1\nM98 P20 L2\nX3\nM30\n(a sub)\n N1 O20\nY1\nM98 P30\nM99\nO30\nZ1\nM99\n%\n"
	inFiles := machine.Control{Subprograms: "sub{number}.nc", Digits: 4}
	texts := map[string]string{"sub0020.nc": "%\nO20\nY1\nM98 P30\nM99\n%\n", "sub0030.nc": "Z1\nM99", "sub0040.nc": "Z1\n",
		"sub0050.nc": "O51\nM99\n", "sub0060.nc": "X1\nM98 P60\nM99\n"}
	twice := "X1\nM98 P20 L2\nX3\nM30\n"
	want := "X1\nM98 P20 L2\nY1\nM98 P30\nZ1\nM99\nM99\nY1\nM98 P30\nZ1\nM99\nM99\nX3\nM30\n"
	for _, c := range []struct {
		name  string
		text  string
		rules machine.Control
		want  string
		file  string
		fault string
	}{
		{name: "own", text: own, want: want},
		{name: "files", text: twice, rules: inFiles, want: want},
		{name: "both", text: own, rules: inFiles, file: "p.nc:", fault: "4:1: a call of subprogram O20, which is in line 8 and in the file sub0020.nc"},
		{name: "none", text: "M98 P7\nM30\n", rules: inFiles, file: "p.nc:", fault: "1:1: a call of subprogram O7, which is not in the program, and the file sub0007.nc"},
		{name: "no files", text: "M98 P20\nM30\n", file: "p.nc:", fault: "1:1: a call of subprogram O20, which is not"},
		{name: "itself", text: "M98 P60\nM30\n", rules: inFiles, file: "sub0060.nc:", fault: "2:1: a call of subprogram O60 by itself"},
		{name: "the program itself", text: "O1\nM98 P1\nM30\n", file: "p.nc:", fault: "2:1: a call of subprogram O1 by itself"},
		{name: "same number twice", text: "M98 P3\nM30\nO3\nM99\nO3\nM99\n", file: "p.nc:", fault: "1:1: a call of subprogram O3, which begins in lines 3 and 5"},
		{name: "no return", text: "M98 P40\nM30\n", rules: inFiles, file: "sub0040.nc:", fault: "2:1: the end of the file in subprogram O40"},
		{name: "another number", text: "M98 P50\nM30\n", rules: inFiles, file: "sub0050.nc:", fault: "1:1: O51"},
		{name: "return from nothing", text: "M99\n", file: "p.nc:", fault: "1:1: a return"},
		{name: "not once", text: "M98 P40 L0\n", file: "p.nc:", fault: "1:1: a call 0 times"},
		{name: "deep", text: deep(12), file: "p.nc:", fault: "31:1: a call in a call"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := readBlocks(t, newBlocks("p.nc", strings.NewReader(c.text), files(texts), &c.rules))
			expectBlocks(t, got, c.want, err, c.file, c.fault)
		})
	}
	t.Run("pipe", func(t *testing.T) {
		_, err := readBlocks(t, newBlocks("p.nc", io.MultiReader(strings.NewReader(own)), nil, &machine.Control{}))
		expectBlocks(t, "", "", err, "p.nc:", "4:1: a call of subprogram O20 in what can be read only once")
	})
}

// deep is a program whose subprograms call each other n deep.
func deep(n int) string {
	var b strings.Builder
	b.WriteString("M98 P1\nM30\n")
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&b, "O%d\nM98 P%d\nM99\n", i, i+1)
	}
	return b.String()
}

// Where it is not stated how the control works expressions out, none is.
func TestExpressionsNotStated(t *testing.T) {
	for text, fault := range map[string]string{"#1=2\n": "1:1:", "X#1\n": "1:2:", "X-[1]\n": "1:3:", "X SIN[30]\n": "1:3:"} {
		got, err := readBlocks(t, newBlocks("p.nc", strings.NewReader(text), nil, &machine.Control{}))
		expectBlocks(t, got, "", err, "p.nc:", fault+" an expression")
	}
}

// What a subprogram sets holds after it: M98 brings no variables of its own, other than macro calls
// (common practice, no source).
func TestVariablesAcrossCalls(t *testing.T) {
	got, err := readBlocks(t, newBlocks("p.nc", strings.NewReader("#1=0\nM98 P2 L3\nX#1\nM30\nO2\n#1=[#1+1]\nM99\n"), nil, &machine.Control{Expressions: true}))
	expectBlocks(t, got, "M98 P2 L3\nM99\nM99\nM99\nX3\nM30\n", err, "", "")
}

// Lines that end where a chunk of the file ends, or anywhere near it.
func TestChunks(t *testing.T) {
	for pad := firstChunk - 20; pad < firstChunk+20; pad++ {
		for _, end := range []string{"\n", "\r\n"} {
			text := "(" + strings.Repeat("-", pad) + ")" + end + "N20 G1 X12.345 Y-3.5" + end + "M30" + end
			got, err := readBlocks(t, newBlocks("p.nc", strings.NewReader(text), nil, &machine.Control{}))
			expectBlocks(t, got, "G1 X12.345 Y-3.5\nM30\n", err, "", "")
		}
	}
}

// Values are the float64 that is nearest to the decimal number, as strconv has it.
func TestNumbersNearest(t *testing.T) {
	for i := range 2000 {
		text := fmt.Sprintf("%.*f", i%12, math.Exp(float64(i%37)-18)*math.Sin(float64(i)))
		b := newBlocks("p.nc", strings.NewReader("X"+text+"\nM30\n"), nil, &machine.Control{})
		block, err := b.next()
		var want float64
		fmt.Sscan(text, &want)
		if err != nil || block.Words[0].Value != want {
			t.Fatalf("%s: %v, %v", text, block, err)
		}
	}
}

func FuzzBlocks(f *testing.F) {
	for _, s := range []string{"%\nO1\nN1 G1 X[1+2]\n%\n", "#1=2\nX##1\nM30", "M98 P2\nM30\nO2\nM99\n", "/X1 (a)\n", "X ATAN[1]/[2]\r\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		yes := true
		b := newBlocks("p.nc", strings.NewReader(text), nil, &machine.Control{BlockDelete: &yes, Expressions: true})
		for range 1000 {
			block, err := b.next()
			if err == io.EOF {
				return
			}
			if err == nil && len(block.Words) == 0 {
				t.Fatal("a block without words")
			}
			if err == nil && block.Words[0].Letter == 'M' && block.Words[0].Value == 98 {
				err = b.call(2, 1, block.Place)
			} else if err == nil && block.Words[0].Letter == 'M' && block.Words[0].Value == 99 {
				err = b.back(block.Place)
			}
			if err == nil {
				continue
			}
			var fault *Fault
			if !errors.As(err, &fault) || fault.Line < 1 || fault.Column < 1 || fault.Found == "" || fault.Expected == "" {
				t.Fatalf("%v", err)
			}
			return
		}
	})
}

func BenchmarkBlocks(b *testing.B) {
	text := strings.Repeat("N120 G1 X123.456 Y-78.901 F1200\nX124.001 Y-78.5\nX124.5 Y-78.25 Z-1.005\nX125. Y-78.\n", 5000)
	b.SetBytes(int64(len(text) / 20000))
	b.ReportAllocs()
	r := newBlocks("p.nc", strings.NewReader(text), nil, &machine.Control{})
	for i := 0; b.Loop(); i++ {
		if i%20000 == 0 {
			r = newBlocks("p.nc", strings.NewReader(text), nil, &machine.Control{})
		}
		if _, err := r.next(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCalls calls a subprogram of four blocks in the program's own file; one call is five blocks.
func BenchmarkCalls(b *testing.B) {
	text := strings.Repeat("M98 P7\n", 10000) + "M30\nO7\nX1 Y2\nX2 Y3\nX3 Y4\nM99\n"
	b.ReportAllocs()
	r := newBlocks("p.nc", strings.NewReader(text), nil, &machine.Control{})
	for i := 0; b.Loop(); i++ {
		if i%10000 == 0 {
			r = newBlocks("p.nc", strings.NewReader(text), nil, &machine.Control{})
		}
		for range 5 {
			block, err := r.next()
			if err == nil && block.Words[0].Letter == 'M' {
				if block.Words[0].Value == 98 {
					err = r.call(7, 1, block.Place)
				} else {
					err = r.back(block.Place)
				}
			}
			if err != nil {
				b.Fatal(err)
			}
		}
	}
}
