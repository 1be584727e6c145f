package text

import (
	"fmt"
	"slices"
	"strings"

	"gridswing/machine/check"
)

// byLetter returns the axes in the order in which people list them.
func byLetter(r *check.Report) []check.Axis {
	axes := slices.Clone(r.Axes)
	slices.SortStableFunc(axes, func(a, b check.Axis) int { return check.ByLetter(a.Letter, b.Letter) })
	return axes
}

// spindle says where the linear axes stood while the spindle side was looked at,
// so that nobody takes the verdict for one on approach and cutting; "" if
// there is no spindle side.
func spindle(r *check.Report) string {
	if len(r.SpindleSide) == 0 || r.Reach != nil && !r.Swung() {
		return ""
	}
	var stand []string
	var roam []check.Range
	for _, a := range byLetter(r) {
		switch {
		case a.SpindleAt == nil || a.SpindleAt.Unit != "mm":
		case a.SpindleAt.From == a.SpindleAt.To:
			stand = append(stand, spindleAt(&a))
		default:
			roam = append(roam, *a.SpindleAt)
		}
	}
	if len(roam) > 0 {
		stand = append(stand, "anywhere in "+Ranges(roam))
	}
	where := "as it stands"
	if len(stand) > 0 {
		where = "with " + strings.Join(stand, ", ")
	}
	var besides []string
	if r.Reach != nil {
		besides = append(besides, "for the operations below")
	}
	if r.Program != nil {
		besides = append(besides, "on the moves of the program")
	}
	if len(besides) > 0 {
		return fmt.Sprintf("While the axes go over their whole ranges the spindle side (%s) was looked at only %s; in approach and in the cut only %s.",
			strings.Join(spindleParts(r), ", "), where, strings.Join(besides, " and "))
	}
	return fmt.Sprintf("The spindle side (%s) was looked at only %s; approach and cutting are not looked at.",
		strings.Join(spindleParts(r), ", "), where)
}

// spindleAt says where one axis stood: "Z at 0 mm (index position)".
func spindleAt(a *check.Axis) string {
	words := Ranges([]check.Range{*a.SpindleAt})
	if a.SpindleWhy == check.AtCommanded {
		return words
	}
	return words + " (" + a.SpindleWhy + ")"
}

// spindleParts names what stands on the spindle side by what it is, and what has
// no such name by its own.
func spindleParts(r *check.Report) (parts []string) {
	named := map[string]bool{}
	for _, q := range r.Presence {
		here := false
		for _, b := range q.Bodies {
			if slices.Contains(r.SpindleSide, b) {
				here, named[b] = true, true
			}
		}
		if here {
			parts = append(parts, q.What)
		}
	}
	for _, b := range r.SpindleSide {
		if !named[b] {
			parts = append(parts, b)
		}
	}
	return parts
}

// swept lists the axes: over what range, how far they could go, which way + is.
func (p *page) swept(r *check.Report) {
	if len(r.Axes) == 0 || r.Reach != nil && !r.Swung() {
		return
	}
	p.heading("Ranges looked at")
	for _, a := range byLetter(r) {
		p.wrapped("   "+a.Letter+" ", 5, p.extent(&a))
		if a.Words != "" {
			p.wrapped("", 5, a.Words)
		}
	}
}

// RangesLookedAt says of each axis over what range it was looked at, and which way + is: the letter
// and the words; nil where the axes went over no ranges.
func RangesLookedAt(r *check.Report) (list [][2]string) {
	if r.Reach != nil && !r.Swung() {
		return nil
	}
	for _, a := range byLetter(r) {
		words := (&page{}).extent(&a)
		if a.Words != "" {
			words += ". " + a.Words
		}
		list = append(list, [2]string{a.Letter, words})
	}
	return list
}

// extent says over what range an axis was looked at, how that compares with how far it can
// go, and what brings it.
func (p *page) extent(a *check.Axis) string {
	only := ""
	if a.SpindleOnly() {
		only = spindleAt(a)
		only = strings.TrimPrefix(only, a.Letter+" ")
	}
	by := ""
	if a.CarriedBy != "machine" {
		by = " (" + a.CarriedBy + ")"
	}
	if only != "" && a.CarriesTool {
		words := p.bold("only " + only)
		if a.Travel != nil {
			words += " of its travel, " + stretch(a.Travel) + " " + a.Travel.Unit
		}
		return words + by
	}
	commanded := a.Commanded
	commanded.Turn = check.Turn{} // as the file has it
	words := strings.TrimPrefix(Ranges([]check.Range{commanded}), a.Letter+" ")
	switch {
	case a.Narrower && a.Travel == nil:
		words += ", " + p.bold("narrower than the axis can go: it turns without end")
	case a.Narrower:
		words += ", " + p.bold("narrower than the axis can go: "+stretch(a.Travel)+" "+a.Travel.Unit)
	case a.Travel == nil:
		words += " of an axis without ends"
	default:
		words += ", all of its travel"
	}
	if only != "" {
		words += ", " + p.bold("but for the spindle side only "+only)
	}
	return words + by
}

// placed lists what stands on the machine and how large it is as drawn, by which
// a wrong unit or file is seen.
func (p *page) placed(r *check.Report) {
	if len(r.Placed) == 0 {
		return
	}
	p.heading("What stands there, and its size as drawn")
	width := 0
	for i := range r.Placed {
		width = max(width, columns(r.Placed[i].Name))
	}
	for i := range r.Placed {
		size := r.Placed[i].Size
		p.wrapped("   "+r.Placed[i].Name, 3+width+2,
			fmt.Sprintf("%s x %s x %s mm", short(size[0], 2), short(size[1], 2), short(size[2], 2)))
	}
}
