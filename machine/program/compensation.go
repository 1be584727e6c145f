package program

// compensates reports whether strokes go through radius compensation.
func (in *interpreter) compensates() bool { return false }

// compensate takes a stroke of the program and emits those of the tool's middle.
func (in *interpreter) compensate(s *stroke) error { return in.emit(s) }

// compensation does G40, G41 and G42.
func (in *interpreter) compensation(code int) error {
	if code != 400 {
		return in.faultAt(radiusG, "a program without radius compensation")
	}
	in.modal[radiusG] = code
	return nil
}

// pending reports whether strokes wait for what follows them.
func (in *interpreter) pending() bool { return false }
