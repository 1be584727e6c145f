package machine

import (
	"fmt"

	"github.com/golang/geo/r3"
)

// row is one point of a feature, from the table itself or a line of a list.
// What is not stated is nil or empty. Units are those of the setup file.
type row struct {
	at             r3.Vector
	axis           *r3.Vector
	depth, through *float64
	depthTo, name  string
	where          string          // the place in the file
	listed         bool            // it is a line of a list
	says           map[string]bool // what that line says beside the point
}

// wrongly notes what is wrong with a value that a table or a line of its list
// states.
func (r *reading) wrongly(w *row, table, key, found, expected string, args ...any) {
	path := join(table, key)
	r.wrongAt(r.placeOf(w, path, key), path, found, expected, args...)
}

func (r *reading) placeOf(w *row, path, key string) string {
	if w.says[key] {
		return w.where
	}
	return r.src.line(path)
}

// rows returns the points of a table: its own, or those of its list.
func (r *reading) rows(path string, at []r3.Vector) (rows []row) {
	points := r.src.states(path + ".at")
	switch listed := r.src.states(path + ".list"); {
	case points && listed:
		r.src.fault(path+".list", "at and list", "one of the two")
	case listed:
		if l := r.lists[path]; l != nil {
			return append(rows, l.rows...)
		}
	case !points:
		r.src.fault(path, "neither at nor list", `at = [[x, y, z], ...], or list = "file.csv"`)
	}
	for _, p := range at {
		rows = append(rows, row{at: p, where: r.src.line(path)})
	}
	return rows
}

// add names a feature and notes it, with the points that the file gives for it.
// Several features of one table are numbered.
func (r *reading) add(path, name string, row *row, several bool, f Feature, stated ...r3.Vector) {
	f.Where = r.src.line(path)
	switch {
	case row != nil && row.name != "":
		f.Name = row.name
	case name == "":
		r.counts[f.Kind]++
		f.Name = fmt.Sprintf("%s %d", f.Kind, r.counts[f.Kind])
	case several:
		r.counts[name]++
		f.Name = fmt.Sprintf("%s %d", name, r.counts[name])
	default:
		f.Name = name
	}
	if row != nil && row.listed {
		f.Where = row.where
	}
	if r.names[f.Name] {
		r.src.fault(path, quoted(f.Name)+" a second time", "each feature of an operation under its own name")
	}
	r.names[f.Name] = true
	r.features = append(r.features, f)
	r.stated = append(r.stated, stated)
}
