// Package tours finds routes of vehicles over directed costs: each stop is on
// one route, each route begins and ends at the depot, and the sum of all costs
// is small. It knows nothing of what is carried or why.
package tours

import (
	"errors"
	"fmt"
)

// Problem is what routes are sought for. Stops are numbered from 1 to Stops; 0
// is the depot. All numbers are whole, in units of the caller's choice, and
// costs and times of legs are below 2^31.
type Problem struct {
	// Stops is how many there are.
	Stops int
	// Costs are the costs of all legs: from a to b at a·(Stops+1)+b, where Places is
	// nil. They need not be the same in both directions.
	Costs []int32
	// Places says in which row and column of Costs and Times each stop is, and the
	// depot, by number: for stops of which many are at few places. Costs are then at
	// place·places+place. Nil: each stop has a place of its own.
	Places []int32
	// Way computes the cost of a leg where Costs is nil: for problems whose table
	// would not stay in the processor's cache, from about 2,000 stops. It must be
	// the same in both directions.
	Way func(a, b int32) int32
	// X and Y may say where depot and stops lie. They make the search for
	// neighbours quick where Way is set and are used for nothing else.
	X, Y []float64
	// Times are the times of all legs, as Costs; nil where costs are times too.
	Times []int32
	// Service is the time that each stop takes, by its number; nil for none.
	Service []int64
	// MaxTime is what no route may take longer than; 0 for no limit.
	MaxTime int64
	// Loads are what routes carry, at most two; each has a limit of its own.
	Loads []Load
	// Fixed is what each route costs beside its legs.
	Fixed int64
	// MaxRoutes is the number of routes that may be used; 0 for no limit.
	MaxRoutes int
	Side
}

// Load is one thing that routes carry: planned for mean + Z·√variance, sums over
// the stops of a route, rounded up.
type Load struct {
	// Mean and Variance are by number of the stop; Variance may be nil.
	Mean, Variance []int64
	Z              float64
	Capacity       int64
	// Handling is the time that a unit of Z·√variance takes. What a unit of the
	// mean takes is part of the stops' service.
	Handling float64
}

// Side are wishes that a problem may have beside its costs. They take no time
// where there are none.
type Side struct {
	// Labels is how many routes bear a label, from 1; others are unlabelled, 0.
	Labels int
	// Prices are what it costs that a stop is on a route of a label, at
	// stop·(Labels+1)+label: for routes that stay near given ones. Never
	// forbids it: a stop with one other price is fixed to that label.
	Prices []int64
	// Apart are pairs of stops that may not share a route.
	Apart [][2]int32
	// Before are pairs of stops of which the first comes earlier wherever they
	// share a route.
	Before [][2]int32
}

// Never is the price of what may not be.
const Never = int64(1) << 40

// ErrProblem marks a problem that contradicts itself.
var ErrProblem = errors.New("not a problem of routes")

// Check says what is wrong with the form of p.
func (p *Problem) Check() error {
	w, places := p.Stops+1, p.places()
	for _, c := range []struct {
		name      string
		have, due int
		optional  bool
	}{
		{"places", len(p.Places), w, true},
		{"costs", len(p.Costs), places * places, p.Way != nil},
		{"times", len(p.Times), places * places, true},
		{"service times", len(p.Service), w, true},
		{"coordinates", len(p.X), w, true},
		{"coordinates", len(p.Y), len(p.X), true},
		{"prices", len(p.Prices), w * (p.Labels + 1), p.Labels == 0},
	} {
		if c.have != c.due && (c.have > 0 || !c.optional) {
			return fmt.Errorf("%w: %d %s for %d stops, want %d", ErrProblem, c.have, c.name, p.Stops, c.due)
		}
	}
	if p.Stops < 0 || len(p.Loads) > mostLoads {
		return fmt.Errorf("%w: %d stops, %d loads", ErrProblem, p.Stops, len(p.Loads))
	}
	return p.checkLists()
}

// leg is the cost from a to b.
func (p *Problem) leg(a, b int32) int32 {
	if p.Costs == nil {
		return p.Way(a, b)
	}
	if p.Places == nil {
		return p.Costs[int(a)*(p.Stops+1)+int(b)]
	}
	return p.Costs[int(p.Places[a])*p.places()+int(p.Places[b])]
}

// mostLoads is how many loads a problem may have.
const mostLoads = 2

func (p *Problem) checkLists() error {
	for i, l := range p.Loads {
		if len(l.Mean) != p.Stops+1 || l.Variance != nil && len(l.Variance) != p.Stops+1 {
			return fmt.Errorf("%w: load %d has %d means and %d variances for %d stops", ErrProblem, i+1, len(l.Mean), len(l.Variance), p.Stops)
		}
	}
	for _, list := range [][][2]int32{p.Apart, p.Before} {
		for _, pair := range list {
			if min(pair[0], pair[1]) < 1 || int(max(pair[0], pair[1])) > p.Stops || pair[0] == pair[1] {
				return fmt.Errorf("%w: pair %v of %d stops", ErrProblem, pair, p.Stops)
			}
		}
	}
	places := p.places()
	for i, c := range p.Costs {
		if c < 0 {
			return fmt.Errorf("%w: cost %d of the leg from %d to %d", ErrProblem, c, i/places, i%places)
		}
	}
	for a, at := range p.Places {
		if at < 0 || int(at) >= places {
			return fmt.Errorf("%w: stop %d at place %d of %d", ErrProblem, a, at, places)
		}
	}
	return nil
}
