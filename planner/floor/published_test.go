package floor_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/floor"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// TestPublished finds the shortest ways that textbooks print for their
// examples. A book's distance of 1 is 1 m here (of 0.01, 1 cm), and the vehicle
// drives 1 m/s, so ways and times have the book's numbers.
func TestPublished(t *testing.T) {
	t.Parallel()
	type edge struct {
		from, to plant.PointCode
		length   units.Length
	}
	for _, c := range []struct {
		name   string
		unit   units.Length
		oneWay bool
		edges  []edge
		from   plant.PointCode
		want   map[plant.PointCode]units.Length
	}{
		{
			// Cormen, Leiserson, Rivest, Stein, Introduction to Algorithms, 3rd
			// edition, 2009, figure 24.6 (from memory).
			name: "Cormen 24.6", unit: units.Metre, oneWay: true, from: "s",
			edges: []edge{
				{"s", "t", 10}, {"s", "y", 5}, {"t", "x", 1}, {"t", "y", 2}, {"y", "t", 3},
				{"y", "x", 9}, {"y", "z", 2}, {"x", "z", 4}, {"z", "x", 6}, {"z", "s", 7},
			},
			want: map[plant.PointCode]units.Length{"s": 0, "t": 8, "x": 9, "y": 5, "z": 7},
		},
		{
			// Sedgewick, Wayne, Algorithms, 4th edition, 2011, section 4.4, the
			// graph tinyEWD and its tree of shortest paths from 0 (from memory).
			name: "Sedgewick tinyEWD", unit: units.Centimetre, oneWay: true, from: "0",
			edges: []edge{
				{"4", "5", 35}, {"5", "4", 35}, {"4", "7", 37}, {"5", "7", 28}, {"7", "5", 28},
				{"5", "1", 32}, {"0", "4", 38}, {"0", "2", 26}, {"7", "3", 39}, {"1", "3", 29},
				{"2", "7", 34}, {"6", "2", 40}, {"3", "6", 52}, {"6", "0", 58}, {"6", "4", 93},
			},
			want: map[plant.PointCode]units.Length{"0": 0, "1": 105, "2": 26, "3": 99, "4": 38, "5": 73, "6": 151, "7": 60},
		},
		{
			// Hillier, Lieberman, Introduction to Operations Research, 7th edition,
			// 2001, section 9.3, the roads of Seervada Park: 13 miles from the
			// entrance O to the station T (from memory).
			name: "Hillier Seervada Park", unit: units.Metre, from: "O",
			edges: []edge{
				{"O", "A", 2}, {"O", "B", 5}, {"O", "C", 4}, {"A", "B", 2}, {"A", "D", 7}, {"B", "C", 1},
				{"B", "D", 4}, {"B", "E", 3}, {"C", "E", 4}, {"D", "E", 1}, {"D", "T", 5}, {"E", "T", 7},
			},
			want: map[plant.PointCode]units.Length{"O": 0, "A": 2, "B": 4, "C": 4, "E": 7, "D": 8, "T": 13},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := &plant.Plant{}
			var points []plant.PointCode
			for code := range c.want {
				points = append(points, code)
				p.AislePoints = append(p.AislePoints, plant.AislePoint{Point: code})
			}
			for _, e := range c.edges {
				p.Aisles = append(p.Aisles, plant.Aisle{From: e.from, To: e.to, Length: e.length * c.unit, OneWay: c.oneWay})
			}
			n, found := floor.New(p)
			require.Empty(t, found)
			quickest, shortest := n.Quickest(points, floor.Ride{Speed: units.MetrePerSecond}, 2), n.Shortest(points, 2)
			for to, want := range c.want {
				leg, ok := quickest.Between(c.from, to)
				require.True(t, ok, to)
				assert.Equal(t, want*c.unit, leg.Length, to)
				assert.Equal(t, want*c.unit, units.Length(leg.Time), "1 ns for each nanometre, to %s", to)
				leg, _ = shortest.Between(c.from, to)
				assert.Equal(t, want*c.unit, leg.Length, to)
			}
		})
	}
}
