package structure

import (
	"math"

	"lanewright/planner/plant"
)

// Section holds the properties of a tube's section about the horizontal axis
// through its middle, in millimetres: what bends a level bends it about this
// one.
type Section struct {
	// Area in mm², Inertia (second moment of area) in mm⁴, Modulus (inertia over
	// half the height) in mm³, Plastic (plastic modulus) in mm³, Radius of gyration
	// in mm.
	Area, Inertia, Modulus, Plastic, Radius float64
}

// SectionOf returns the properties of a tube from its outside measures, its
// decimal wall and its corner radius; never from the number of a series, for
// the same number means walls that differ by 8 % in stiffness.
func SectionOf(p *plant.KitPart) Section {
	w, h, t := p.Width.MM(), p.Height.MM(), p.Wall.MM()
	if p.Shape == plant.RoundTube {
		return round(h, t)
	}
	return hollow(w, h, t, p.CornerRadius.MM())
}

// round is a round tube: I = π(D⁴ − d⁴)/64, Z = (D³ − d³)/6.
func round(d, t float64) Section {
	inner := max(d-2*t, 0)
	return section(math.Pi/4*(d*d-inner*inner), math.Pi/64*(math.Pow(d, 4)-math.Pow(inner, 4)), (math.Pow(d, 3)-math.Pow(inner, 3))/6, d)
}

// hollow is a rectangular tube: its outside less its inside, each with its
// corners rounded; the inner radius is the outer one less the wall.
func hollow(w, h, t, radius float64) Section {
	a, i, z := full(w, h, radius)
	if innerW, innerH := w-2*t, h-2*t; innerW > 0 && innerH > 0 {
		da, di, dz := full(innerW, innerH, max(radius-t, 0))
		a, i, z = a-da, i-di, z-dz
	}
	return section(a, i, z, h)
}

// full is a full rectangle with rounded corners: the rectangle less, at each
// corner, a square of side r with the quarter of a circle put back.
func full(w, h, r float64) (area, inertia, plastic float64) {
	area, inertia, plastic = w*h, w*h*h*h/12, w*h*h/4
	quarter := math.Pi * r * r / 4
	// Own inertia of a quarter circle and the place of its middle, from its corner.
	own := (math.Pi/16 - 4/(9*math.Pi)) * math.Pow(r, 4)
	square, middle := h/2-r/2, h/2-r+4*r/(3*math.Pi)
	area -= 4 * (r*r - quarter)
	inertia -= 4 * (math.Pow(r, 4)/12 + r*r*square*square - own - quarter*middle*middle)
	plastic -= 4 * (r*r*square - quarter*middle)
	return area, inertia, plastic
}

func section(area, inertia, plastic, height float64) Section {
	return Section{Area: area, Inertia: inertia, Modulus: 2 * inertia / height, Plastic: plastic, Radius: math.Sqrt(inertia / area)}
}

// Drilled returns the section of p with a hole of that diameter in mm taken
// off: through top and bottom it takes walls where they count most, through the
// sides, at mid-height, hardly any. A bolt in a hole counts as no metal.
func Drilled(p *plant.KitPart, diameter float64, walls plant.HoleWalls) Section {
	s := SectionOf(p)
	h, t := p.Height.MM(), p.Wall.MM()
	area, inertia := s.Area, s.Inertia
	if walls != plant.HolesSides {
		area -= 2 * diameter * t
		inertia -= 2 * (diameter*t*math.Pow(h/2-t/2, 2) + diameter*math.Pow(t, 3)/12)
	}
	if walls != plant.HolesTop {
		area -= 2 * diameter * t
		inertia -= 2 * t * math.Pow(diameter, 3) / 12
	}
	return section(area, inertia, s.Plastic, h)
}
