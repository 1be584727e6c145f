package program

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"gridswing/machine"
)

// current is the block that is being done, its words sorted.
type current struct {
	block  *Block
	words  [26]int16     // index into block.Words of the only word of a letter, and 1; 0: there is none
	codes  [groups]int   // the code of each group, in tenths; unset if there is none
	places [groups]int16 // where it stands: an index into block.Words
	used   uint32        // letters whose words something has used, by bit
	silent bool          // a code of the block moves nothing
	stated uint32        // letters that are in the block, by bit
}

// bit of a letter.
func bit(letter byte) uint32 { return 1 << (letter - 'A') }

// has reports whether the block has a word of a letter.
func (c *current) has(letter byte) bool { return c.stated&bit(letter) != 0 }

// word returns the word of a letter and marks it used; nil if there is none.
func (c *current) word(letter byte) *Word {
	n := c.words[letter-'A']
	if n == 0 {
		return nil
	}
	c.used |= bit(letter)
	return &c.block.Words[n-1]
}

// end is the place behind what was read last.
func (c *current) end() Place {
	if c.block == nil {
		return Place{Line: 1, Column: 1}
	}
	return Place{c.block.File, c.block.Line, len(c.block.Text) + 1}
}

// sort puts the words of a block in their places. It is a Fault if a letter stands twice, if two
// codes are of one group (but for G80, by which many programs begin their first block with G0), or
// if a code is not known.
func (in *interpreter) sort(b *Block) error {
	c := &in.cur
	c.block, c.used, c.stated, c.silent = b, 0, 0, false
	clear(c.words[:])
	for g := range c.codes {
		c.codes[g] = unset
	}
	for i := range b.Words {
		w := &b.Words[i]
		if w.Letter == 'G' || w.Letter == 'M' {
			if err := in.code(w, int16(i)); err != nil {
				return err
			}
			continue
		}
		n := w.Letter - 'A'
		if c.words[n] != 0 {
			return in.fault(w, w.Text+" beside another "+string(w.Letter), "each letter but G and M once in a block")
		}
		c.words[n] = int16(i + 1)
		c.stated |= bit(w.Letter)
	}
	return in.forWhom()
}

// forWhom is a Fault if several codes of the block take its P, which can be meant for one of them only.
func (in *interpreter) forWhom() error {
	c := &in.cur
	if !c.has('P') {
		return nil
	}
	takers := 0
	for _, takes := range [...]bool{
		c.codes[onceG] == 40 || c.codes[onceG] == 100,
		c.codes[callM] == 980,
		c.codes[offsetG] != unset && in.codes.meanings[c.codes[offsetG]] == machine.MoreOffsets,
		in.motionNow() > 100 && in.motionNow() != 800 && c.codes[onceG] == unset && in.axisWords(),
	} {
		if takes {
			takers++
		}
	}
	if takers > 1 {
		w := c.word('P')
		return in.fault(w, w.Text+", which more than one code of the block takes", "two blocks")
	}
	return nil
}

// code notes a G or M code.
func (in *interpreter) code(w *Word, i int16) error {
	n, ok := tenthsOf(w.Value)
	g := noGroup
	if ok {
		if w.Letter == 'G' {
			g = in.codes.g[n]
		} else {
			g = in.codes.m[n]
		}
	}
	switch {
	case g == noGroup && w.Letter == 'G' && n == 640 && ok:
		return in.fault(w, w.Text+", by which the path rounds corners, nobody says by how much", "G61, or in [program.codes] of the machine file %q = %q where the control keeps to the path all the same", w.Text, machine.ExactPath)
	case g == noGroup:
		return in.fault(w, w.Text, "a code that ISO 6983-1 or NISTIR 6556 has, or one that [program.codes] of the machine file explains")
	case g == silent:
		in.cur.silent = true
		return nil
	case g == motionG && n == 800 && in.cur.codes[g] >= 0 && in.cur.codes[g] <= 30:
		return nil // the cycle ends, the other code goes on
	case g == motionG && n <= 30 && in.cur.codes[g] == 800:
	case in.cur.codes[g] != unset:
		other := &in.cur.block.Words[in.cur.places[g]]
		return in.fault(w, w.Text+" beside "+other.Text, "one code of a group in a block")
	}
	in.cur.codes[g], in.cur.places[g] = n, i
	return nil
}

// parameters are letters that may say more of a code that moves nothing. Beside a move it would
// be a guess that they do not say more of that: R is a rounded corner on some controls.
var parameters = bit('E') | bit('L') | bit('P') | bit('Q') | bit('R')

// idle is the Fault of a word that nothing has used.
func (in *interpreter) idle() error {
	left := in.cur.stated &^ in.cur.used
	if in.cur.silent && !in.axisWords() {
		left &^= parameters
	}
	if left == 0 {
		return nil
	}
	letter := byte('A' + bits.TrailingZeros32(left))
	w := in.cur.word(letter)
	if in.axes.byLetter[letter-'A'] >= 0 {
		return in.fault(w, w.Text, "a code that says how the axis goes there, such as G0 or G1")
	}
	if letter >= 'A' && letter <= 'C' || letter >= 'U' && letter <= 'Z' {
		return in.fault(w, w.Text, "a word of an axis that the setup has: %s", in.letters())
	}
	return in.fault(w, w.Text, "a word that a code of the block uses")
}

// letters lists the axes of the setup.
func (in *interpreter) letters() string {
	var list []string
	for k := range in.setup.Axes {
		list = append(list, in.setup.Axes[k].Letter)
	}
	slices.Sort(list)
	return strings.Join(list, ", ")
}

// fault is a Fault at a word of the block.
func (in *interpreter) fault(w *Word, found, expected string, args ...any) error {
	f := &Fault{Place: in.cur.block.Place, Found: found, Expected: fmt.Sprintf(expected, args...)}
	if w != nil {
		f.Place = in.cur.block.at(w)
	}
	return f
}

// at returns the word of the code of a group, for messages.
func (in *interpreter) codeWord(g group) *Word {
	if in.cur.codes[g] == unset {
		return nil
	}
	return &in.cur.block.Words[in.cur.places[g]]
}

// expected is a Fault at the code of a group.
func (in *interpreter) faultAt(g group, expected string, args ...any) error {
	w := in.codeWord(g)
	if w == nil {
		return in.fault(nil, "a block", expected, args...)
	}
	return in.fault(w, w.Text, expected, args...)
}
