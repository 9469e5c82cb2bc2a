package plot_test

import (
	"fmt"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/simulation"
)

// monday is a working day in the zone of the samples.
func monday() time.Time {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		panic(err)
	}
	return time.Date(2027, 1, 11, 0, 0, 0, 0, zone)
}

// sample is a loop that is played by hand: two shifts with a break each, a round
// every 40 minutes that brings at most two full containers one round later, and
// one round in the afternoon that does not come.
func sample() simulation.Trace {
	const hour = time.Hour
	day := monday()
	t := simulation.Trace{
		Loop: demand.Key{Part: "LENS <70>", Cell: "OPTIC", Station: "10"}, Replication: 3,
		Pack: 24, Containers: 5, Zone: "Europe/Berlin",
		Shifts: []demand.Occurrence{
			{Shift: "early", Day: day, Work: []plant.Span{{Start: 6 * hour, End: 9 * hour}, {Start: 9*hour + 30*time.Minute, End: 14 * hour}}},
			{Shift: "late", Day: day, Work: []plant.Span{{Start: 14 * hour, End: 18 * hour}, {Start: 18*hour + 30*time.Minute, End: 22 * hour}}},
		},
	}
	p := player{t: &t, onHand: 120}
	p.add(simulation.EventStart, 6*hour)
	for m := 6 * 60; m < 22*60; m++ {
		clock := time.Duration(m) * time.Minute
		if (m-360)%40 == 0 && m != 14*60+40 && m != 15*60+20 && m != 16*60 {
			p.round(clock)
		}
		if working(t.Shifts, clock) {
			p.use(clock, 0.4+0.25*float64(m/120%3))
		}
	}
	p.add(simulation.EventEnd, 22*hour)
	return t
}

func working(list []demand.Occurrence, clock time.Duration) bool {
	for _, o := range list {
		for _, w := range o.Work {
			if clock >= w.Start && clock < w.End {
				return true
			}
		}
	}
	return false
}

// player keeps the state of a sample.
type player struct {
	t              *simulation.Trace
	onHand         float64
	signals, under int
	used           float64
	missing        float64
}

func (p *player) add(e simulation.Event, clock time.Duration) *simulation.Point {
	p.t.Points = append(p.t.Points, simulation.Point{
		At: monday().Add(clock), Event: e, OnHand: p.onHand, Missing: p.missing, Signals: p.signals, UnderWay: p.under,
		Full: int(p.onHand) / int(p.t.Pack),
	})
	return &p.t.Points[len(p.t.Points)-1]
}

func (p *player) round(clock time.Duration) {
	name := fmt.Sprintf("B %02d:%02d", clock/time.Hour, clock%time.Hour/time.Minute)
	if brought := p.under; brought > 0 {
		p.onHand += float64(brought)*24 - p.missing
		p.under, p.missing = 0, 0
		at := p.add(simulation.EventDeliver, clock)
		at.Round, at.Brought = name, brought
	}
	taken := min(p.signals, 2)
	p.signals, p.under = p.signals-taken, taken
	at := p.add(simulation.EventVisit, clock)
	at.Round, at.Taken, at.Left = name, taken, p.signals
}

func (p *player) use(clock time.Duration, pieces float64) {
	if p.onHand < pieces {
		if p.missing == 0 {
			p.missing, p.onHand = pieces, 0
			p.add(simulation.EventShort, clock)
		}
		return
	}
	p.onHand -= pieces
	if p.used += pieces; p.used >= 24 {
		p.used -= 24
		p.signals++
		p.add(simulation.EventOpen, clock)
	}
}
