package stl

import (
	"bytes"
	"fmt"
)

// solidAt is where a binary solid stands in its file, and how long it is.
type solidAt struct {
	offset int64
	facets int
}

// findSolids returns the solids of a binary file, once its size bears out their
// counts: nothing is allocated on a header's word.
func findSolids(src *source) ([]solidAt, error) {
	if src.size < prefixSize {
		return nil, src.malformed(src.size, "end of file", `a header and facet count of 84 bytes, or ASCII beginning with "solid"`)
	}
	n, err := src.count(0)
	if err != nil {
		return nil, err
	}
	end := prefixSize + recordSize*n
	switch {
	case end > src.size:
		return nil, src.malformed(headerSize, facetsCounted(n),
			fmt.Sprintf("at most %d, all that a file of %d bytes has room for (it is truncated, or the count is wrong)",
				(src.size-prefixSize)/recordSize, src.size))
	case n == 0:
		return nil, src.malformed(headerSize, facetsCounted(n), "at least one")
	}
	further, err := furtherSolids(src, end)
	if err == nil && further == nil {
		err = checkTrailing(src, n, end)
	}
	return append([]solidAt{{0, int(n)}}, further...), err
}

// count returns the facet count of the solid at offset.
func (s *source) count(offset int64) (int64, error) {
	prefix, err := s.window(make([]byte, prefixSize), offset, prefixSize)
	if err != nil {
		return 0, err
	}
	return facetCount(prefix), nil
}

// furtherSolids returns the solids that follow each other from end on, if the
// last of them ends with the file; otherwise none, and it was something else.
func furtherSolids(src *source, end int64) ([]solidAt, error) {
	var solids []solidAt
	for src.size-end >= prefixSize+recordSize {
		n, err := src.count(end)
		if err != nil {
			return nil, err
		}
		if n == 0 {
			return nil, nil
		}
		solids = append(solids, solidAt{end, int(n)})
		end += prefixSize + recordSize*n
		if end == src.size {
			return solids, nil
		}
	}
	return nil, nil
}

// checkTrailing looks at what stands behind the facets. Padding and notes are
// nobody's concern, but facets left out of a clearance check are: so whole records
// beyond the count are refused, unless every byte of them is the same.
func checkTrailing(src *source, n, end int64) error {
	rest := src.size - end
	if rest == 0 || rest%recordSize != 0 {
		return nil
	}
	padding, err := src.allEqual(end)
	if err != nil || padding {
		return err
	}
	return src.malformed(headerSize, facetsCounted(n),
		fmt.Sprintf("%d, which is what a file of %d bytes holds", n+rest/recordSize, src.size))
}

func facetsCounted(n int64) string { return fmt.Sprintf("a count of %d facets", n) }

// allEqual reports whether all bytes from offset on are the same.
func (s *source) allEqual(offset int64) (bool, error) {
	buf := make([]byte, 1<<14)
	first, err := s.window(buf, offset, 1)
	if err != nil {
		return false, err
	}
	same := bytes.Clone(first)
	for offset < s.size {
		b, err := s.window(buf, offset, int(min(s.size-offset, int64(len(buf)))))
		if err != nil {
			return false, err
		}
		if bytes.Count(b, same) != len(b) {
			return false, nil
		}
		offset += int64(len(b))
	}
	return true, nil
}
