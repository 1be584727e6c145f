package main

import (
	"fmt"
	"math"
	"strings"

	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// locationsOf writes a short program of cutter locations: the top is faced, gone over with the ball that
// leans all round, and spotted. Locations are in the part's coordinates.
func locationsOf(s *machine.Setup) []byte {
	const face, mill, ball, spot = 58.5, 1, 7, 4
	var w writer
	w.line("PARTNO %s, FACED", strings.ToUpper(s.Parts[0].Name))
	w.line("$$ ZERO IN THE MIDDLE OF THE UNDERSIDE")
	w.line("UNITS/MM")
	w.line("MULTAX/ON")
	tool := func(number int) {
		w.line("LOADTL/%d", number)
		w.line("SPINDL/%.0f,RPM,CLW", data[number].speed)
		w.line("COOLNT/ON")
		w.line("FEDRAT/%.0f,MMPM", data[number].feed)
	}
	rapid := func(p, axis r3.Vector) {
		w.line("RAPID")
		w.line("%s", location(p, axis))
	}
	up := r3.Vector{Z: 1}
	tool(mill)
	for i, x := range []float64{-18, 18} {
		y := 80.0
		if i > 0 {
			y = -y
		}
		if i == 0 {
			rapid(r3.Vector{X: x, Y: y, Z: 150}, up)
			rapid(r3.Vector{X: x, Y: y, Z: face}, up)
		}
		w.line("%s", location(r3.Vector{X: x, Y: y, Z: face}, up))
		w.line("%s", location(r3.Vector{X: x, Y: -y, Z: face}, up))
	}
	rapid(r3.Vector{X: 18, Y: 80, Z: 150}, up)
	tool(ball)
	ring(&w, rapid)
	tool(spot)
	rapid(r3.Vector{Z: 150}, up)
	rapid(r3.Vector{Z: face + 20}, up)
	w.line("CYCLE/FACE,RAPTO,3,FEDTO,-2,RTRCTO,20,DWELL,0.2,MMPM,%.0f", data[spot].feed)
	for _, y := range []float64{-10, 0, 10} {
		w.line("%s", location(r3.Vector{Y: y, Z: face}, up))
	}
	w.line("CYCLE/OFF")
	rapid(r3.Vector{Z: 150}, up)
	w.line("SPINDL/OFF")
	w.line("END")
	w.line("FINI")
	return w.Bytes()
}

// ring writes a ring of the ball end mill on the faced top, 0.2 deep, with the tool leaning outward.
func ring(w *writer, rapid func(p, axis r3.Vector)) {
	const points, radius, lean, ball, depth = 48, 20.0, 0.35, 5.0, 0.2
	const centre = 58.5 + ball - depth
	at := func(i int) (tip, axis r3.Vector) {
		turn := 2 * math.Pi * float64(i) / points
		out := r3.Vector{X: math.Cos(turn), Y: math.Sin(turn)}
		axis = out.Mul(lean).Add(r3.Vector{Z: 1}).Normalize()
		return out.Mul(radius).Add(r3.Vector{Z: centre}).Sub(axis.Mul(ball)), axis
	}
	over := r3.Vector{Z: 150} // where the axes have room to turn
	rapid(over, r3.Vector{Z: 1})
	tip, axis := at(0)
	rapid(tip.Add(axis.Mul(80)), axis)
	rapid(tip.Add(axis.Mul(4)), axis)
	for i := range points + 1 {
		tip, axis = at(i)
		w.line("%s", location(tip, axis))
	}
	w.line("%s", location(tip.Add(axis.Mul(5)), axis))
	rapid(tip.Add(axis.Mul(80)), axis)
	rapid(over, r3.Vector{Z: 1})
}

// location writes a GOTO.
func location(p, axis r3.Vector) string {
	return fmt.Sprintf("GOTO/%.4f,%.4f,%.4f,%.7f,%.7f,%.7f", p.X, p.Y, p.Z, axis.X, axis.Y, axis.Z)
}
