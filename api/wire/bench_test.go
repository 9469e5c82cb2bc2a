package wire_test

import (
	"io"
	"testing"

	"lanewright/api/apitest"
	"lanewright/api/wire"
	"lanewright/planner"
)

// large repeats the loops, proved, and lanes of the made-up plan to those of a large
// plant.
func large() *planner.Plan {
	p := apitest.Plan()
	loops, lanes, proved := p.Loops, p.Lanes, p.Proof.Loops
	for len(p.Loops) < 20_000 {
		p.Loops = append(p.Loops, loops...)
		p.Lanes = append(p.Lanes, lanes...)
		p.Proof.Loops = append(p.Proof.Loops, proved...)
	}
	return p
}

// BenchmarkWritePlan writes the document of a plan of 20,000 loops.
func BenchmarkWritePlan(b *testing.B) {
	p := large()
	b.ReportAllocs()
	for b.Loop() {
		if err := wire.WritePlan(io.Discard, p); err != nil {
			b.Fatal(err)
		}
	}
}
