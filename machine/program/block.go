package program

// Block is one block of a program, its expressions worked out.
type Block struct {
	Place
	Text    string // the whole line without its end; good until the next block is read
	Words   []Word // in the order in which they are written; reused for the next block
	Deleted bool   // begins with the block-delete character
}

// Word is a letter and its number.
type Word struct {
	Letter byte // upper case
	Value  float64
	// Plain is set where the number was written without a decimal point, as the control may
	// count it in smallest steps. A value that was worked out is never plain.
	Plain  bool
	Column int
	Text   string // as it is written, for messages; good as long as Block.Text
}

// blocks is where the interpreter gets blocks from: calls and returns of subprograms are followed.
// The last block is followed by io.EOF; every other error is a *Fault.
//
// call and back are asked for by the interpreter when it meets M98 and M99.
