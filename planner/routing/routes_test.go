package routing_test

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"lanewright/planner/routing"
)

func TestRoutesScratch(t *testing.T) {
	in := random(rand.New(rand.NewPCG(1, 1)), size{columns: 8, rows: 6, racks: 70, loops: 10, vehicles: 3, intervals: hourly, used: 0.6})
	start := time.Now()
	p := routing.Routes(context.Background(), in, routing.DefaultSettings(), 1, 2, nil)
	t.Log(time.Since(start), p.Bounds, len(p.Unserved), len(p.Findings))
	for _, r := range p.Routes {
		t.Log(r.Route, r.Vehicle, r.Handler, r.Round, r.LoadPlanned, r.MassPlanned, r.Travel, len(r.Stops))
	}
	require.Empty(t, check(in, p))
	in = random(rand.New(rand.NewPCG(1, 1)), size{columns: 25, rows: 20, racks: 1250, loops: 16, vehicles: 3, intervals: hourly, used: 0.6})
	start = time.Now()
	p = routing.Routes(context.Background(), in, routing.DefaultSettings(), 1, 2, nil)
	t.Log(time.Since(start), p.Bounds, len(p.Unserved), len(p.Findings))
	require.Empty(t, check(in, p))
}
