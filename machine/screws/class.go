package screws

import (
	"fmt"
	"math"
	"strings"
)

// Class is a property class of screws (ISO 898-1).
type Class struct {
	Name string // "8.8"
	// of diameters up to 16 mm, and over
	proof, yield [2]float64
	// strength is the column of engagements: 0 to 8.8, 1 to 10.9, 2 to 12.9.
	strength int
}

// classes: proof stress Sp and yield stress (ReL, Rpf or Rp0.2), MPa (ISO 898-1). The
// former are those of printed proof loads; the latter agree from 8.8 on with what VDI
// 2230 tabulates, below they are from memory.
var classes = []Class{
	{"4.6", [2]float64{225, 225}, [2]float64{240, 240}, 0},
	{"4.8", [2]float64{310, 310}, [2]float64{340, 340}, 0},
	{"5.6", [2]float64{280, 280}, [2]float64{300, 300}, 0},
	{"5.8", [2]float64{380, 380}, [2]float64{420, 420}, 0},
	{"6.8", [2]float64{440, 440}, [2]float64{480, 480}, 0},
	{"8.8", [2]float64{580, 600}, [2]float64{640, 660}, 0},
	{"9.8", [2]float64{650, 650}, [2]float64{720, 720}, 1}, // to M16 only
	{"10.9", [2]float64{830, 830}, [2]float64{940, 940}, 1},
	{"12.9", [2]float64{970, 970}, [2]float64{1100, 1100}, 2},
}

// ClassOf returns the property class of that name ("8.8"). The error names what there is.
func ClassOf(name string) (Class, error) {
	var names []string
	for _, c := range classes {
		if c.Name == name {
			return c, nil
		}
		names = append(names, c.Name)
	}
	return Class{}, fmt.Errorf("property class %q, expected %s", name, strings.Join(names, ", "))
}

// of picks the value for a size.
func of(values [2]float64, s Size) float64 {
	if s.Diameter > 16 {
		return values[1]
	}
	return values[0]
}

// ProofStress is what a screw of a size bears without a lasting elongation, MPa.
func (c Class) ProofStress(s Size) float64 { return of(c.proof, s) }

// ProofLoad is the proof stress on the stress area, N. ISO 898-1 rounds it to three digits.
func (c Class) ProofLoad(s Size) float64 { return c.ProofStress(s) * s.StressArea() }

// Tightening is what a screw is tightened with.
type Tightening struct {
	Preload float64 // N
	Torque  float64 // N m
	// Friction is the coefficient that both are for, of thread and head alike.
	Friction float64
}

// utilised is the part of the yield stress, of tension and torsion together, that
// VDI 2230 tabulates preloads for.
const utilised = 0.9

// Friction that a screw can have, of its thread and under its head: classes A to E of
// VDI 2230-1; from memory.
const LeastFriction, MostFriction = 0.04, 0.4

// Tighten returns the greatest preload and torque for a full-shank socket head cap screw
// in a medium clearance hole, with the friction in thread and under the head stated: 90 %
// of yield while it is being turned (VDI 2230-1). With A the stress area of
// diameter d0 and W its plastic section modulus pi d0^3 / 12 against torsion,
//
//	FM = 0.9 Rp A / sqrt(1 + 3 (3/2 d2/d0 (P/(pi d2) + 1.155 mu))^2)
//	MA = FM (0.16 P + 0.58 d2 mu + Dk/2 mu),   Dk = (bearing face + hole) / 2.
//
// Both are upper ends: a torque wrench scatters, and friction that is lower than stated
// stretches the screw further. The error says which friction no such joint has.
func (c Class) Tighten(s Size, friction float64) (Tightening, error) {
	if !(friction >= LeastFriction && friction <= MostFriction) {
		return Tightening{}, fmt.Errorf("friction %v, expected %v to %v", friction, LeastFriction, MostFriction)
	}
	d0, d2 := (s.PitchDiameter()+s.Root())/2, s.PitchDiameter()
	torsion := 1.5 * d2 / d0 * (s.Pitch/(math.Pi*d2) + 1.155*friction)
	force := utilised * of(c.yield, s) * s.StressArea() / math.Sqrt(1+3*torsion*torsion)
	arm := 0.16*s.Pitch + 0.58*d2*friction + (s.Head.Bearing+s.Hole.Medium)/4*friction
	return Tightening{Preload: force, Torque: force * arm / 1e3, Friction: friction}, nil
}
