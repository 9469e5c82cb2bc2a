package floor_test

import (
	"fmt"
	"math"
	"math/big"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// drawPlant draws up to 12 points and 40 aisles, one way or not, with lengths
// and limits that often tie.
func drawPlant(t *rapid.T) *plant.Plant {
	p := &plant.Plant{}
	n := rapid.IntRange(1, 12).Draw(t, "points")
	for i := range n {
		p.AislePoints = append(p.AislePoints, plant.AislePoint{Point: plant.PointCode(fmt.Sprintf("P%d", i)), Place: plant.Place{
			X: units.Length(rapid.IntRange(0, 5).Draw(t, "x")) * metre, Y: units.Length(rapid.IntRange(0, 5).Draw(t, "y")) * metre,
		}})
	}
	for range rapid.IntRange(0, 40).Draw(t, "aisles") {
		p.Aisles = append(p.Aisles, plant.Aisle{
			From:       p.AislePoints[rapid.IntRange(0, n-1).Draw(t, "from")].Point,
			To:         p.AislePoints[rapid.IntRange(0, n-1).Draw(t, "to")].Point,
			Length:     units.Length(rapid.IntRange(0, 6).Draw(t, "length")) * metre,
			OneWay:     rapid.Bool().Draw(t, "one way"),
			SpeedLimit: units.Speed(rapid.IntRange(0, 3).Draw(t, "limit")) * mps,
		})
	}
	return p
}

// floyd is a second judge: all ways by Floyd, Algorithm 97, Communications of
// the ACM 5, 1962, 345, comparing time first and length second.
func floyd(p *plant.Plant, speed units.Speed) [][]floor.Leg {
	number := map[plant.PointCode]int{}
	for i, a := range p.AislePoints {
		number[a.Point] = i
	}
	n := len(p.AislePoints)
	d := make([][]floor.Leg, n)
	for i := range d {
		d[i] = make([]floor.Leg, n)
		for j := range d[i] {
			if i != j {
				d[i][j] = floor.Leg{Time: math.MaxInt64 / 4}
			}
		}
	}
	better := func(a, b floor.Leg) bool { return a.Time < b.Time || a.Time == b.Time && a.Length < b.Length }
	for _, a := range p.Aisles {
		from, to := number[a.From], number[a.To]
		length := a.Length
		if length == 0 {
			one, two := p.AislePoints[from].Place, p.AislePoints[to].Place
			length = units.Length(math.Round(math.Hypot(float64(one.X-two.X), float64(one.Y-two.Y))))
		}
		v := speed
		if a.SpeedLimit > 0 {
			v = min(v, a.SpeedLimit)
		}
		leg := floor.Leg{Time: nearest(length, v), Length: length}
		if better(leg, d[from][to]) {
			d[from][to] = leg
		}
		if !a.OneWay && better(leg, d[to][from]) {
			d[to][from] = leg
		}
	}
	for k := range n {
		for i := range n {
			for j := range n {
				if by := d[i][k].Plus(d[k][j]); better(by, d[i][j]) {
					d[i][j] = by
				}
			}
		}
	}
	return d
}

// nearest is length / v in nanoseconds, halves away from zero.
func nearest(length units.Length, v units.Speed) time.Duration {
	n := new(big.Int).Mul(big.NewInt(int64(length)), big.NewInt(2e9))
	n.Add(n, big.NewInt(int64(v)))
	return time.Duration(n.Div(n, big.NewInt(2*int64(v))).Int64())
}

func TestQuickestAgainstFloyd(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlant(t)
		n, _ := floor.New(p)
		speed := units.Speed(rapid.IntRange(1, 3).Draw(t, "speed")) * mps
		var points []plant.PointCode
		for _, a := range p.AislePoints {
			points = append(points, a.Point)
		}
		table, want := n.Quickest(points, floor.Ride{Speed: speed}, 1), floyd(p, speed)
		for i := range points {
			for j := range points {
				leg, ok := table.Leg(i, j)
				require.Equal(t, want[i][j].Time < math.MaxInt64/4, ok, "%s to %s", points[i], points[j])
				if ok {
					require.Equal(t, want[i][j], leg, "%s to %s", points[i], points[j])
				}
			}
		}
		require.Equal(t, table, n.Quickest(points, floor.Ride{Speed: speed}, 3), "three threads")
	})
}

// TestShortestIsNeverLonger compares the two tables and what can be reached.
func TestShortestIsNeverLonger(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlant(t)
		n, _ := floor.New(p)
		var points []plant.PointCode
		for _, a := range p.AislePoints {
			points = append(points, a.Point)
		}
		quickest, shortest := n.Quickest(points, floor.Ride{Speed: mps}, 2), n.Shortest(points, 2)
		for i := range points {
			reached := 0
			for j := range points {
				quick, ok := quickest.Leg(i, j)
				short, same := shortest.Leg(i, j)
				require.Equal(t, ok, same)
				if ok {
					reached++
					require.LessOrEqual(t, short.Length, quick.Length)
				}
			}
			require.Len(t, n.Reach(points[i]), reached)
		}
	})
}
