package floor_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/finding"
	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

const (
	metre = units.Metre
	mps   = units.MetrePerSecond
)

// at puts points on the map, in metres; the first is the market.
func at(places map[plant.PointCode][2]float64, order ...plant.PointCode) []plant.AislePoint {
	var points []plant.AislePoint
	for i, code := range order {
		kind := plant.Crossing
		if i == 0 {
			kind = plant.Market
		}
		xy := places[code]
		points = append(points, plant.AislePoint{Point: code, Kind: kind, Place: plant.Place{
			X: units.Length(xy[0] * float64(metre)), Y: units.Length(xy[1] * float64(metre)),
		}})
	}
	return points
}

func TestStraight(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		x, y units.Length
		want units.Length
	}{
		{"nowhere", 0, 0, 0},
		{"3, 4, 5 in nanometres", 3, 4, 5},
		{"to the left and down", -5 * metre, -12 * metre, 13 * metre},
		{"root of 2 rounds down", 1, 1, 1},
		{"root of 3² + 2² = 3.606 rounds up", 3, 2, 4},
		{"diagonal of a 1 km square", 1000 * metre, 1000 * metre, 1_414_213_562_373},
		{"9 million km, where float64 has lost the nanometres", 1 << 62, 1, 1 << 62},
		{"beyond the range of a length", math.MaxInt64, math.MaxInt64, math.MaxInt64},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, floor.Straight(plant.Place{}, plant.Place{X: c.x, Y: c.y}))
			assert.Equal(t, c.want, floor.Straight(plant.Place{X: c.x, Y: c.y}, plant.Place{}))
		})
	}
}

// TestWays goes through what an aisle may say. M is at the origin, A 30 m east
// of it, B 40 m north of A.
func TestWays(t *testing.T) {
	t.Parallel()
	points := at(map[plant.PointCode][2]float64{"A": {30, 0}, "B": {30, 40}}, "M", "A", "B")
	for _, c := range []struct {
		name     string
		aisles   []plant.Aisle
		from, to plant.PointCode
		want     floor.Leg
		ok       bool
	}{
		{"straight line where no length is given", []plant.Aisle{{From: "M", To: "A"}}, "M", "A", floor.Leg{Time: 15 * time.Second, Length: 30 * metre}, true},
		{"both ways", []plant.Aisle{{From: "M", To: "A"}}, "A", "M", floor.Leg{Time: 15 * time.Second, Length: 30 * metre}, true},
		{"the length of the sheet", []plant.Aisle{{From: "M", To: "A", Length: 36 * metre}}, "M", "A", floor.Leg{Time: 18 * time.Second, Length: 36 * metre}, true},
		{"one way along", []plant.Aisle{{From: "M", To: "A", OneWay: true}}, "M", "A", floor.Leg{Time: 15 * time.Second, Length: 30 * metre}, true},
		{"one way against", []plant.Aisle{{From: "M", To: "A", OneWay: true}}, "A", "M", floor.Leg{}, false},
		{"a speed limit below the vehicle's speed", []plant.Aisle{{From: "M", To: "A", SpeedLimit: mps / 2}}, "M", "A", floor.Leg{Time: time.Minute, Length: 30 * metre}, true},
		{"a speed limit above it", []plant.Aisle{{From: "M", To: "A", SpeedLimit: 3 * mps}}, "M", "A", floor.Leg{Time: 15 * time.Second, Length: 30 * metre}, true},
		{"the quicker way, not the shorter", []plant.Aisle{{From: "M", To: "B", SpeedLimit: mps / 2}, {From: "M", To: "A"}, {From: "A", To: "B"}}, "M", "B", floor.Leg{Time: 35 * time.Second, Length: 70 * metre}, true},
		{"of two equally quick ways the shorter", []plant.Aisle{{From: "M", To: "A", Length: 60 * metre}, {From: "M", To: "A", Length: 30 * metre, SpeedLimit: mps}}, "M", "A", floor.Leg{Time: 30 * time.Second, Length: 30 * metre}, true},
		{"no way", []plant.Aisle{{From: "M", To: "A"}}, "M", "B", floor.Leg{}, false},
		{"to itself", nil, "B", "B", floor.Leg{}, true},
		{"an aisle to itself", []plant.Aisle{{From: "M", To: "M", Length: metre}, {From: "M", To: "A"}}, "M", "M", floor.Leg{}, true},
		{"an aisle to nowhere is left out", []plant.Aisle{{From: "M", To: "Z"}, {From: "M", To: "A"}}, "M", "A", floor.Leg{Time: 15 * time.Second, Length: 30 * metre}, true},
		{"1,126 km and more is no way", []plant.Aisle{{From: "M", To: "A", Length: 1_126_000 * metre}}, "M", "A", floor.Leg{}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			n, _ := floor.New(&plant.Plant{AislePoints: points, Aisles: c.aisles})
			leg, ok := n.Quickest([]plant.PointCode{"M", "A", "B"}, floor.Ride{Speed: 2 * mps}, 1).Between(c.from, c.to)
			assert.Equal(t, c.ok, ok)
			if ok {
				assert.Equal(t, c.want, leg)
			}
		})
	}
}

func TestShortestIgnoresSpeed(t *testing.T) {
	t.Parallel()
	p := &plant.Plant{
		AislePoints: at(map[plant.PointCode][2]float64{"A": {30, 0}, "B": {30, 40}}, "M", "A", "B"),
		Aisles:      []plant.Aisle{{From: "M", To: "B", SpeedLimit: mps / 10}, {From: "M", To: "A"}, {From: "A", To: "B"}},
	}
	n, found := floor.New(p)
	require.Empty(t, found)
	leg, ok := n.Shortest([]plant.PointCode{"M", "B"}, 1).Between("M", "B")
	require.True(t, ok)
	assert.Equal(t, floor.Leg{Length: 50 * metre}, leg)
}

func TestTableOfUnknownPoints(t *testing.T) {
	t.Parallel()
	n, _ := floor.New(&plant.Plant{AislePoints: at(nil, "M", "A"), Aisles: []plant.Aisle{{From: "M", To: "A"}}})
	table := n.Quickest([]plant.PointCode{"M", "Z"}, floor.Ride{Speed: mps}, 4)
	_, ok := table.Between("M", "Z")
	assert.False(t, ok, "Z is no aisle point")
	_, ok = table.Between("M", "A")
	assert.False(t, ok, "A is not in the table")
	_, ok = table.Between("Z", "Z")
	assert.True(t, ok, "every place is where it is")
	assert.False(t, n.Has("Z"))
	assert.Equal(t, 2, n.Aisles())
	assert.Equal(t, 2, table.Len())
}

func TestReach(t *testing.T) {
	t.Parallel()
	n, _ := floor.New(&plant.Plant{
		AislePoints: at(nil, "M", "A", "B", "C"),
		Aisles:      []plant.Aisle{{From: "M", To: "A"}, {From: "A", To: "B", OneWay: true}, {From: "C", To: "M", OneWay: true}},
	})
	assert.Equal(t, []plant.PointCode{"M", "A", "B"}, n.Reach("M"))
	assert.Equal(t, []plant.PointCode{"M", "A", "C"}, n.ReachedBy("M"))
	assert.Equal(t, []plant.PointCode{"B"}, n.Reach("B"))
	assert.Empty(t, n.Reach("Z"))
}

// TestFindings wants exactly the codes named, with place and remedy.
func TestFindings(t *testing.T) {
	t.Parallel()
	row := func(n int) finding.Origin { return finding.Origin{File: "plant.xlsx", Sheet: "Aisles", Row: n} }
	line := at(map[plant.PointCode][2]float64{"A": {30, 0}, "B": {60, 0}}, "M", "A", "B")
	stop := append([]plant.AislePoint(nil), line...)
	stop[2].Kind = plant.StopAt
	for _, c := range []struct {
		name string
		p    plant.Plant
		want map[string]finding.Severity
	}{
		{"all well", plant.Plant{AislePoints: line, Aisles: []plant.Aisle{{From: "M", To: "A"}, {From: "A", To: "B"}}}, nil},
		{"a little shorter than the straight line", plant.Plant{AislePoints: line[:2], Aisles: []plant.Aisle{{From: "M", To: "A", Length: 297 * metre / 10}}}, nil},
		{"shorter than the straight line", plant.Plant{AislePoints: line[:2], Aisles: []plant.Aisle{{From: "M", To: "A", Length: 3 * metre, Origin: row(2)}}},
			map[string]finding.Severity{floor.CodeShorterThanLine: finding.Warning}},
		{"a crossing that nobody reaches", plant.Plant{AislePoints: line, Aisles: []plant.Aisle{{From: "M", To: "A"}}},
			map[string]finding.Severity{floor.CodeUnreachable: finding.Note}},
		{"a stop that nobody reaches", plant.Plant{AislePoints: stop, Aisles: []plant.Aisle{{From: "M", To: "A"}}},
			map[string]finding.Severity{floor.CodeUnreachable: finding.Warning}},
		{"no way back", plant.Plant{AislePoints: line, Aisles: []plant.Aisle{{From: "M", To: "A"}, {From: "A", To: "B", OneWay: true}}},
			map[string]finding.Severity{floor.CodeUnreachable: finding.Note}},
		{"with a rack the plant's own check speaks", plant.Plant{AislePoints: line, Aisles: []plant.Aisle{{From: "M", To: "A"}}, Racks: []plant.Rack{{Rack: "R1", AislePoint: "B"}}}, nil},
		{"no aisles at all", plant.Plant{AislePoints: line}, nil},
		{"no market", plant.Plant{AislePoints: line[1:], Aisles: nil}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			_, found := floor.New(&c.p)
			got := map[string]finding.Severity{}
			for _, f := range found {
				got[f.Code] = f.Severity
				assert.NotEmpty(t, f.Summary)
				assert.NotEmpty(t, f.Detail)
				assert.NotEmpty(t, f.Remedy)
			}
			if c.want == nil {
				assert.Empty(t, found)
				return
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// TestTwoMarkets wants a way there and back to one and the same market.
func TestTwoMarkets(t *testing.T) {
	t.Parallel()
	points := at(map[plant.PointCode][2]float64{"A": {30, 0}, "N": {60, 0}}, "M", "A", "N")
	points[2].Kind = plant.Market
	_, found := floor.New(&plant.Plant{AislePoints: points, Aisles: []plant.Aisle{
		{From: "M", To: "A", OneWay: true}, {From: "A", To: "N", OneWay: true},
	}})
	require.Len(t, found, 1)
	assert.Equal(t, "A", found[0].Subject.Point)
	assert.Contains(t, found[0].Summary, "return to the market it left")
}

func TestMarkets(t *testing.T) {
	t.Parallel()
	p := &plant.Plant{AislePoints: at(nil, "M", "A"), Vehicles: []plant.Vehicle{{From: "A"}, {From: ""}, {From: "M"}}}
	assert.Equal(t, []plant.PointCode{"M", "A"}, floor.Markets(p))
}

func TestPages(t *testing.T) {
	t.Parallel()
	codes := map[string]bool{}
	for _, p := range floor.Pages() {
		codes[p.Code] = true
		assert.NotEmpty(t, p.Title)
		assert.NotEmpty(t, p.Text)
	}
	assert.Equal(t, map[string]bool{floor.CodeShorterThanLine: true, floor.CodeUnreachable: true}, codes)
}
