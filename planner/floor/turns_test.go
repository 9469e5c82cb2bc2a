package floor_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
)

// cross is a crossing X with four arms of 10 m: M west, N north, E east, S south;
// N and E are joined by a detour of 50 m.
func cross() *plant.Plant {
	p := &plant.Plant{AislePoints: at(map[plant.PointCode][2]float64{
		"X": {10, 0}, "N": {10, 10}, "E": {20, 0}, "S": {10, -10},
	}, "M", "X", "N", "E", "S")}
	p.Aisles = []plant.Aisle{{From: "M", To: "X"}, {From: "X", To: "N"}, {From: "X", To: "E"}, {From: "X", To: "S"}, {From: "N", To: "E", Length: 50 * metre}}
	return p
}

func TestTurns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		turns    []plant.Turn
		noBack   bool
		from, to plant.PointCode
		want     float64 // metres, 0 for no way
	}{
		{"nothing said", nil, false, "M", "E", 20},
		{"straight on forbidden: over N", []plant.Turn{{From: "M", At: "X", To: "E"}}, true, "M", "E", 70},
		{"the other way it stays allowed", []plant.Turn{{From: "M", At: "X", To: "E"}}, false, "E", "M", 20},
		{"another turn does not matter", []plant.Turn{{From: "M", At: "X", To: "N"}}, false, "M", "E", 20},
		{"a turn round in another arm is used", []plant.Turn{{From: "M", At: "X", To: "E"}}, false, "M", "E", 40},
		{"and not where it is forbidden", []plant.Turn{{From: "M", At: "X", To: "E"}, {From: "M", At: "X", To: "N"}}, true, "M", "E", 0},
		{"a row that allows it lifts the mark of the aisle", []plant.Turn{{From: "M", At: "X", To: "E"}, {From: "M", At: "X", To: "N"}, {From: "X", At: "S", To: "X", Allowed: true}}, true, "M", "E", 40},
		{"nobody comes from M into anything", []plant.Turn{{From: "M", At: "X"}}, false, "M", "E", 0},
		{"but east, says a row with both ends", []plant.Turn{{From: "M", At: "X"}, {From: "M", At: "X", To: "E", Allowed: true}}, false, "M", "E", 20},
		{"of two rows with one end the one that forbids counts", []plant.Turn{{From: "M", At: "X", Allowed: true}, {At: "X", To: "E"}}, false, "M", "E", 70},
		{"twice, for and against: forbidden", []plant.Turn{{From: "M", At: "X", To: "E", Allowed: true}, {From: "M", At: "X", To: "E"}}, true, "M", "E", 70},
		{"no turn at the end of a way", []plant.Turn{{At: "E"}, {At: "M"}}, false, "M", "E", 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := cross()
			p.Turns = c.turns
			for i := range p.Aisles {
				p.Aisles[i].NoTurning = c.noBack
			}
			n, _ := floor.New(p)
			points := []plant.PointCode{"M", "N", "E", "S"}
			leg, ok := n.Quickest(points, floor.Ride{Speed: mps}, 2).Between(c.from, c.to)
			require.Equal(t, c.want > 0, ok)
			if ok {
				assert.InDelta(t, c.want, leg.Length.Metres(), 1e-9)
				assert.Equal(t, time.Duration(c.want)*time.Second, leg.Time)
			}
			walk, ok := n.Quickest(points, floor.Ride{Speed: mps, OnFoot: true}, 1).Between(c.from, c.to)
			assert.True(t, ok)
			assert.InDelta(t, 20, walk.Length.Metres(), 1e-9, "who walks turns as he likes")
		})
	}
}

func TestMayTurn(t *testing.T) {
	t.Parallel()
	p := cross()
	n, _ := floor.New(p)
	assert.True(t, n.MayTurn("M", "X", "E"), "nothing said")
	p.Turns = []plant.Turn{{From: "M", At: "X", To: "E"}}
	p.Aisles[1].NoTurning = true
	n, _ = floor.New(p)
	assert.False(t, n.MayTurn("M", "X", "E"))
	assert.True(t, n.MayTurn("E", "X", "M"))
	assert.False(t, n.MayTurn("X", "N", "X"))
	assert.True(t, n.MayTurn("X", "S", "X"))
	assert.True(t, n.MayTurn("M", "N", "E"), "no such aisle")
}

func TestWhoMayUseAnAisle(t *testing.T) {
	t.Parallel()
	p := cross()
	p.Aisles[2].Traffic = plant.OnlyWalkers // X to E
	p.Aisles[3].Traffic = plant.OnlyDriven  // X to S
	n, _ := floor.New(p)
	points := []plant.PointCode{"M", "E", "S"}
	drive, walk := n.Quickest(points, floor.Ride{Speed: mps}, 1), n.Quickest(points, floor.Ride{Speed: mps, OnFoot: true}, 1)
	leg, ok := drive.Between("M", "E")
	assert.True(t, ok)
	assert.Equal(t, 70*metre, leg.Length, "round over N")
	_, ok = walk.Between("M", "S")
	assert.False(t, ok)
	leg, _ = walk.Between("M", "E")
	assert.Equal(t, 20*metre, leg.Length)
}

func TestClosedAisles(t *testing.T) {
	t.Parallel()
	p := cross()
	p.RouteRules = []plant.RouteRule{{Kind: plant.RuleClosed, From: "E", To: "X"}, {Kind: plant.RuleClosed, From: "M"}}
	n, _ := floor.New(p)
	leg, ok := n.Quickest([]plant.PointCode{"M", "E"}, floor.Ride{Speed: mps}, 1).Between("M", "E")
	assert.True(t, ok)
	assert.Equal(t, 70*metre, leg.Length)
	assert.Equal(t, 8, n.Aisles(), "in both directions")
}

func TestMends(t *testing.T) {
	t.Parallel()
	drive, walk := floor.Ride{Speed: mps}, floor.Ride{Speed: mps, OnFoot: true}
	for _, c := range []struct {
		name   string
		change func(*plant.Plant)
		ride   floor.Ride
		from   plant.PointCode
		to     plant.PointCode
		want   []floor.Mend
	}{
		{"nothing to mend", func(*plant.Plant) {}, drive, "M", "S", nil},
		{"one way", func(p *plant.Plant) { p.Aisles[3] = plant.Aisle{From: "S", To: "X", OneWay: true} }, drive, "M", "S", []floor.Mend{{floor.OneWay, "X", "S", 10 * metre}}},
		{"closed, and a longer one closed too", func(p *plant.Plant) {
			p.Aisles = append(p.Aisles, plant.Aisle{From: "E", To: "S", Length: 30 * metre})
			p.RouteRules = []plant.RouteRule{{Kind: plant.RuleClosed, From: "X", To: "S"}, {Kind: plant.RuleClosed, From: "E", To: "S"}}
		}, drive, "S", "M", []floor.Mend{{floor.Closed, "S", "X", 10 * metre}, {floor.Closed, "S", "E", 30 * metre}}},
		{"for people only", func(p *plant.Plant) { p.Aisles[3].Traffic = plant.OnlyWalkers }, drive, "M", "S", []floor.Mend{{floor.NotOpen, "X", "S", 10 * metre}}},
		{"for vehicles only", func(p *plant.Plant) { p.Aisles[3].Traffic = plant.OnlyDriven }, walk, "M", "S", []floor.Mend{{floor.NotOpen, "X", "S", 10 * metre}}},
		{"no aisle: the shortest that helps", func(p *plant.Plant) { p.Aisles = append(p.Aisles[:3:3], p.Aisles[4]) }, drive, "M", "S", []floor.Mend{{floor.NoAisle, "X", "S", 10 * metre}}},
		{"a forbidden turn", func(p *plant.Plant) {
			p.Turns = []plant.Turn{{At: "X", To: "S"}}
		}, drive, "M", "S", []floor.Mend{{Obstacle: floor.Turning}}},
		{"a point nobody knows", func(*plant.Plant) {}, drive, "M", "Z", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := cross()
			c.change(p)
			n, _ := floor.New(p)
			assert.Equal(t, c.want, n.Mends(c.from, c.to, c.ride))
		})
	}
}

// TestStrips: two narrow aisles that follow one another are one stretch, one beyond
// a crossing with a wide aisle is another.
func TestStrips(t *testing.T) {
	t.Parallel()
	p := cross()
	for _, i := range []int{1, 4, 3} { // X-N, N-E, X-S
		p.Aisles[i].SingleFile = true
	}
	n, _ := floor.New(p)
	assert.Equal(t, []floor.Strip{{From: "X", To: "N", Aisles: 2}, {From: "X", To: "S", Aisles: 1}}, n.Strips())
	steps, ok := n.Guide(floor.Ride{Speed: mps}).Way("M", "N")
	require.True(t, ok)
	require.Len(t, steps, 2)
	assert.Equal(t, floor.Step{From: "M", To: "X", Leg: floor.Leg{Time: 10 * time.Second, Length: 10 * metre}}, steps[0])
	assert.Equal(t, 1, steps[1].Strip)
}

func TestTablesAreMadeOnce(t *testing.T) {
	t.Parallel()
	n, _ := floor.New(cross())
	var tables floor.Tables
	points := []plant.PointCode{"M", "E"}
	first := tables.Quickest(n, points, floor.Ride{Speed: mps}, 1)
	points[1] = "S"
	other := tables.Quickest(n, points, floor.Ride{Speed: mps}, 1)
	assert.NotSame(t, first, other)
	assert.Same(t, first, tables.Quickest(n, []plant.PointCode{"M", "E"}, floor.Ride{Speed: mps}, 2))
	assert.NotSame(t, first, tables.Quickest(n, []plant.PointCode{"M", "E"}, floor.Ride{Speed: mps, OnFoot: true}, 2))
	var none *floor.Tables
	assert.Equal(t, first, none.Quickest(n, []plant.PointCode{"M", "E"}, floor.Ride{Speed: mps}, 1))
}

// turnings is a second judge of ways with turning rules: it walks over all pairs of
// a point and the point before it, again and again until nothing gets better
// (Bellman, On a routing problem, Quarterly of Applied Mathematics 16, 1958, 87-90).
// Aisles that join the same points are all alike here, and the rules all have both
// ends.
func turnings(p *plant.Plant, from plant.PointCode) map[plant.PointCode]float64 {
	type at struct{ before, point plant.PointCode }
	metres := map[at]float64{{"", from}: 0}
	forbidden := map[plant.Turn]bool{}
	for _, t := range p.Turns {
		forbidden[t] = true
	}
	for changed := true; changed; {
		changed = false
		for k, so := range metres {
			for _, a := range p.Aisles {
				next, ok := a.To, a.From == k.point
				if !ok && a.To == k.point && !a.OneWay {
					next, ok = a.From, true
				}
				turn := plant.Turn{From: k.before, At: k.point, To: next}
				if !ok || k.before != "" && forbidden[turn] {
					continue
				}
				far := so + a.Length.Metres()
				if old, known := metres[at{k.point, next}]; !known || far < old {
					metres[at{k.point, next}] = far
					changed = true
				}
			}
		}
	}
	best := map[plant.PointCode]float64{}
	for k, m := range metres {
		if old, ok := best[k.point]; !ok || m < old {
			best[k.point] = m
		}
	}
	return best
}

func TestTurnsAgainstAllPairs(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlant(t)
		for i := range p.Aisles {
			p.Aisles[i].SpeedLimit, p.Aisles[i].Length = 0, max(p.Aisles[i].Length, metre)
		}
		var points []plant.PointCode
		for _, a := range p.AislePoints {
			points = append(points, a.Point)
		}
		point := rapid.SampledFrom(points)
		for range rapid.IntRange(1, 12).Draw(t, "turns") {
			p.Turns = append(p.Turns, plant.Turn{From: point.Draw(t, "from"), At: point.Draw(t, "at"), To: point.Draw(t, "to")})
		}
		n, _ := floor.New(p)
		table := n.Quickest(points, floor.Ride{Speed: mps}, 1)
		for i, from := range points {
			want := turnings(p, from)
			for j, to := range points {
				leg, ok := table.Leg(i, j)
				far, there := want[to]
				require.Equal(t, there, ok, "%s to %s", from, to)
				if ok {
					require.InDelta(t, far, leg.Length.Metres(), 1e-6, "%s to %s", from, to)
				}
			}
		}
	})
}

// TestGuideTellsTheTable: the aisles of each way add up to the table's leg, follow
// one another and keep the turning rules.
func TestGuideTellsTheTable(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlant(t)
		var points []plant.PointCode
		for _, a := range p.AislePoints {
			points = append(points, a.Point)
		}
		point := rapid.SampledFrom(points)
		for range rapid.IntRange(0, 6).Draw(t, "turns") {
			p.Turns = append(p.Turns, plant.Turn{From: point.Draw(t, "from"), At: point.Draw(t, "at"), To: point.Draw(t, "to")})
		}
		for i := range p.Aisles {
			p.Aisles[i].NoTurning = rapid.IntRange(0, 3).Draw(t, "no turning") == 0
		}
		n, _ := floor.New(p)
		ride := floor.Ride{Speed: mps, OnFoot: rapid.Bool().Draw(t, "on foot")}
		table, guide := n.Quickest(points, ride, 1), n.Guide(ride)
		for i, from := range points {
			for j, to := range points {
				leg, ok := table.Leg(i, j)
				steps, same := guide.Way(from, to)
				require.Equal(t, ok, same, "%s to %s", from, to)
				if !ok {
					continue
				}
				var sum floor.Leg
				at := from
				for k, s := range steps {
					require.Equal(t, at, s.From)
					at, sum = s.To, sum.Plus(s.Leg)
					if k > 0 && !ride.OnFoot {
						for _, turn := range p.Turns {
							require.NotEqual(t, turn, plant.Turn{From: steps[k-1].From, At: s.From, To: s.To})
						}
					}
				}
				require.Equal(t, to, at)
				require.Equal(t, leg, sum, "%s to %s", from, to)
			}
		}
	})
}

func TestMendsHelp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlant(t)
		n, _ := floor.New(p)
		from, to := p.AislePoints[0].Point, p.AislePoints[len(p.AislePoints)-1].Point
		ride := floor.Ride{Speed: mps}
		for _, m := range n.Mends(from, to, ride) {
			mended := *p
			mended.Aisles = append(append([]plant.Aisle(nil), p.Aisles...), plant.Aisle{From: m.From, To: m.To, OneWay: true})
			again, _ := floor.New(&mended)
			leg, ok := again.Quickest([]plant.PointCode{from, to}, ride, 1).Between(from, to)
			require.True(t, ok, "%+v", m)
			require.Less(t, leg.Time, time.Duration(math.MaxInt64))
		}
	})
}
