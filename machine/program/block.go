package program

// Block is one block of a program, its expressions worked out.
type Block struct {
	// Place is where its first word stands.
	Place
	Text    string // the whole line without its end
	Words   []Word // in the order in which they are written; reused for the next block
	Deleted bool   // begins with the block-delete character, and the control does not leave it out
}

// Word is a letter and its number. Words N and O are not handed out: a number of a block means
// nothing, and programs and subprograms are found by blocks itself.
type Word struct {
	Letter byte // upper case
	Value  float64
	// Plain is set where the number was written without a decimal point, as the control may
	// count it in smallest steps. A value that was worked out is never plain.
	Plain  bool
	Column int
	Text   string // as it is written, for messages
}

// at is where a word of the block stands.
func (b *Block) at(w *Word) Place { return Place{b.File, b.Line, w.Column} }
