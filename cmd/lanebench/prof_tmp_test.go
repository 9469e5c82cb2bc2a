package main

import (
	"os"
	"testing"

	"lanewright/cmd/lanebench/internal/vrp"
	"lanewright/planner/tours"
)

func BenchmarkProf(b *testing.B) {
	v, err := vrp.Read("/work/shared/data/routing/"+os.Getenv("I")+".vrp", "")
	if err != nil {
		b.Fatal(err)
	}
	p, _ := v.Problem()
	b.ResetTimer()
	for range b.N {
		r, _ := tours.Solve(b.Context(), p, tours.Limits{Steps: 30000}, tours.Settings{Seed: 1})
		b.ReportMetric(float64(r.Cost), "value")
	}
}
