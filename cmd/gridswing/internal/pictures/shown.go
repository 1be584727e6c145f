package pictures

import (
	"fmt"
	"strings"

	"gridswing/render"
)

// Number numbers the placed units in a picture from 1, in the order of the setup file, and
// returns what each number stands for.
func (sc *Scene) Number(p *render.Picture) (list []Numbered) {
	numbers := map[string]int{}
	for i := range p.Items {
		k := sc.body(p.Items[i].Name)
		if k < 0 || sc.setup.Bodies[k].Unit == "machine" || sc.setup.Bodies[k].OnTool {
			continue
		}
		unit := sc.setup.Bodies[k].Unit
		if numbers[unit] == 0 {
			numbers[unit] = len(numbers) + 1
			list = append(list, Numbered{len(numbers), unit})
		}
		p.Items[i].Number = numbers[unit]
	}
	p.Numbers = true
	return list
}

// Veil shows a unit or a body as a veil; it reports whether the picture has any such.
func (sc *Scene) Veil(p *render.Picture, name string) bool {
	found := false
	for i := range p.Items {
		if it := &p.Items[i]; it.Name == name || it.Unit == name {
			it.Emphasis, found = render.Ghost, true
		}
	}
	return found
}

// Names lists the units and bodies in a picture, each once.
func (sc *Scene) Names(p *render.Picture) (names []string) {
	known := map[string]bool{"": true}
	for i := range p.Items {
		for _, n := range []string{p.Items[i].Unit, p.Items[i].Name} {
			if !known[n] {
				names = append(names, n)
			}
			known[n] = true
		}
	}
	return names
}

// NumberWords says what numbers stand for, in lines of about so many letters.
func NumberWords(list []Numbered, letters int) (lines []string) {
	line := ""
	for _, n := range list {
		word := fmt.Sprintf("%d %s", n.Number, n.Name)
		if line != "" && len(line)+len(word) > letters {
			lines, line = append(lines, line+","), ""
		}
		line = strings.TrimPrefix(line+", "+word, ", ")
	}
	if line != "" {
		lines = append(lines, line+".")
	}
	return lines
}
