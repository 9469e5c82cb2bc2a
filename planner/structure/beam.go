package structure

import "math"

// Force is a load on a beam: newtons spread evenly from one place to another,
// in millimetres from its left end; a point load where the two are equal.
type Force struct{ From, To, N float64 }

// PointLoad is a load at one place.
func PointLoad(at, n float64) Force { return Force{at, at, n} }

// Beam is a beam on two supports at its ends that hold it up and do not clamp
// it: span in mm, modulus of elasticity in MPa.
type Beam struct {
	Span, Elastic float64
	Section       Section
	Loads         []Force
}

// Reactions are the forces at both supports, in N.
func (b Beam) Reactions() (left, right float64) {
	for _, f := range b.Loads {
		share := (f.From + f.To) / 2 / b.Span
		left += f.N * (1 - share)
		right += f.N * share
	}
	return left, right
}

// Moment at x, in N·mm: reaction less what the loads on the left take (Macaulay's
// brackets).
func (b Beam) Moment(x float64) float64 {
	left, _ := b.Reactions()
	return left*x - b.sum(x, 1)
}

// shear at x, in N.
func (b Beam) shear(x float64) float64 {
	left, _ := b.Reactions()
	return left - b.sum(x, 0)
}

// sum is what the loads do at x when they are integrated n times after the
// shear: N<x−a>ⁿ/n! of a point load, N/(c−a)·(<x−a>ⁿ⁺¹ − <x−c>ⁿ⁺¹)/(n+1)! of a
// spread one.
func (b Beam) sum(x float64, n int) (total float64) {
	for _, f := range b.Loads {
		if f.To <= f.From {
			total += f.N * bracket(x-f.From, n)
			continue
		}
		total += f.N / (f.To - f.From) * (bracket(x-f.From, n+1) - bracket(x-f.To, n+1))
	}
	return total
}

// bracket is <v>ⁿ/n!: 0 left of its place.
func bracket(v float64, n int) float64 {
	if v <= 0 {
		return 0
	}
	r := 1.0
	for i := 1; i <= n; i++ {
		r *= v / float64(i)
	}
	return r
}

// Deflection at x, in mm, downwards: EI·y = C·x − R·x³/6 + Σ, with C so that the
// right end stays where it is.
func (b Beam) Deflection(x float64) float64 {
	left, _ := b.Reactions()
	return (b.turn()*x - left*x*x*x/6 + b.sum(x, 3)) / (b.Elastic * b.Section.Inertia)
}

// turn is EI times the slope at the left end.
func (b Beam) turn() float64 {
	left, _ := b.Reactions()
	return left*b.Span*b.Span/6 - b.sum(b.Span, 3)/b.Span
}

// slope is EI times the slope at x.
func (b Beam) slope(x float64) float64 {
	left, _ := b.Reactions()
	return b.turn() - left*x*x/2 + b.sum(x, 2)
}

// MostMoment is the largest moment, in N·mm, and where it is: where the shear
// changes its sign.
func (b Beam) MostMoment() (moment, at float64) {
	at = bisect(b.Span, b.shear)
	return b.Moment(at), at
}

// MostDeflection is the largest deflection, in mm, and where it is: loads that
// all press down bend the beam one way, so its slope falls from end to end.
func (b Beam) MostDeflection() (deflection, at float64) {
	at = bisect(b.Span, b.slope)
	return b.Deflection(at), at
}

// bisect finds where a falling f passes 0 between 0 and span.
func bisect(span float64, f func(float64) float64) float64 {
	low, high := 0.0, span
	for range 60 {
		middle := (low + high) / 2
		if f(middle) > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// Stress is the largest bending stress, in MPa.
func (b Beam) Stress() float64 {
	m, _ := b.MostMoment()
	return m / b.Section.Modulus
}

// column is a strut held at both ends: effective length over radius of gyration
// decides at which stress it buckles, in MPa.
//
// AISC 360, chapter E3 (from memory): Fe = π²E/(KL/r)²; F = 0.658^(Fy/Fe)·Fy up
// to KL/r = 4.71·√(E/Fy), 0.877·Fe beyond.
func column(slenderness, yield, elastic float64) float64 {
	if slenderness <= 0 {
		return yield
	}
	euler := math.Pi * math.Pi * elastic / (slenderness * slenderness)
	if slenderness <= 4.71*math.Sqrt(elastic/yield) {
		return math.Pow(0.658, yield/euler) * yield
	}
	return 0.877 * euler
}
