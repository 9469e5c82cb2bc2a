package vrp_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/cmd/lanebench/internal/vrp"
	"lanewright/planner/tours"
)

// The stops lie on a line at 3, 6 and 9.5 from the depot.
const line = `NAME : line
COMMENT : made up
TYPE : CVRP
DIMENSION : 4
EDGE_WEIGHT_TYPE : EUC_2D
CAPACITY : 2
NODE_COORD_SECTION
1 0 0
2 3 0
3 6 0
4 9.5 0
DEMAND_SECTION
1 0
2 1
3 1
4 1
DEPOT_SECTION
1
-1
EOF
`

func solved(t *testing.T, v *vrp.Instance, steps int) [][]int32 {
	t.Helper()
	p, _ := v.Problem()
	r, err := tours.Solve(t.Context(), p, tours.Limits{Steps: steps}, tours.Settings{Seed: 1})
	require.NoError(t, err)
	require.True(t, r.Feasible)
	var routes [][]int32
	for _, x := range r.Routes {
		routes = append(routes, x.Stops)
	}
	return routes
}

func TestDistances(t *testing.T) {
	t.Parallel()
	v, err := vrp.Parse(line)
	require.NoError(t, err)
	assert.InDelta(t, 10, v.Leg(0, 3), 0, "half is rounded up")
	assert.InDelta(t, 4, v.Leg(2, 3), 0)
	routes := solved(t, v, 500)
	assert.InDelta(t, 26, v.Value(routes), 0, "20 there and back, 6 for the nearest")
	assert.True(t, v.Keeps(routes))
	assert.LessOrEqual(t, v.Bound(), 26.0)
	v.Exact = true
	assert.InDelta(t, 25, v.Value(solved(t, v, 500)), 1e-9)
}

func TestWhatRoutesKeep(t *testing.T) {
	t.Parallel()
	v, err := vrp.Parse(line)
	require.NoError(t, err)
	v.Limit, v.Service = 20, []float64{0, 1, 1, 0}
	for _, c := range []struct {
		name   string
		routes [][]int32
		keeps  bool
	}{
		{"all", [][]int32{{1, 2}, {3}}, true},
		{"a stop is missing", [][]int32{{1, 2}}, false},
		{"a stop twice", [][]int32{{1, 2}, {3, 1}}, false},
		{"overloaded", [][]int32{{1, 2, 3}}, false},
		{"too long with service", [][]int32{{1}, {2, 3}}, false},
		{"no such stop", [][]int32{{1, 2}, {3, 4}}, false},
	} {
		assert.Equal(t, c.keeps, v.Keeps(c.routes), c.name)
	}
}

func TestTables(t *testing.T) {
	t.Parallel()
	want := []float64{0, 1, 2, 1, 0, 3, 2, 3, 0}
	for shape, numbers := range map[string]string{
		"FULL_MATRIX": "0 1 2\n1 0 3\n2 3 0", "LOWER_ROW": "1\n2 3", "UPPER_ROW": "1 2\n3", "LOWER_DIAG_ROW": "0 1 0\n2 3 0", "UPPER_DIAG_ROW": "0 1 2 0 3 0",
	} {
		v, err := vrp.Parse("TYPE: CVRP\nDIMENSION: 3\nCAPACITY: 5\nEDGE_WEIGHT_TYPE: EXPLICIT\nEDGE_WEIGHT_FORMAT: " + shape +
			"\nEDGE_WEIGHT_SECTION\n" + numbers + "\nDEMAND_SECTION\n1 0\n2 1\n3 1\n")
		require.NoError(t, err, shape)
		assert.Equal(t, want, v.Table, shape)
	}
}

func TestADirectedTable(t *testing.T) {
	t.Parallel()
	v, err := vrp.Parse("TYPE: CVRP\nDIMENSION: 3\nCAPACITY: 5\nEDGE_WEIGHT_TYPE: EXPLICIT\nEDGE_WEIGHT_FORMAT: FULL_MATRIX\n" +
		"EDGE_WEIGHT_SECTION\n0 1 9\n9 0 1\n1 9 0\nDEMAND_SECTION\n1 0\n2 1\n3 1\n")
	require.NoError(t, err)
	assert.Equal(t, [][]int32{{1, 2}}, solved(t, v, 200))
	assert.InDelta(t, 3, v.Bound(), 0)
}

func TestWhatIsWrongInAFile(t *testing.T) {
	t.Parallel()
	const head = "TYPE : CVRP\nDIMENSION : 2\nCAPACITY : 5\nEDGE_WEIGHT_TYPE : EUC_2D\n"
	const places = "NODE_COORD_SECTION\n1 0 0\n2 1 0\n"
	for _, c := range []struct{ text, says string }{
		{"", "1: not a routing problem: DIMENSION is missing"},
		{"TYPE : TSP\n", `1: not a routing problem: type "TSP"`},
		{"DIMENSION : many\n", `1: not a routing problem: dimension "many"`},
		{"EDGE_WEIGHT_TYPE : GEO\n", `edge weight type "GEO"`},
		{"HOURS : 8\n", "1: not a routing problem: \"HOURS\" before DIMENSION"},
		{head + "HOURS : 8\n", "5: not a routing problem: \"HOURS\" is not known"},
		{head + "NODE_COORD_SECTION\n1 0 0\n", "the file ends within a section"},
		{head + "NODE_COORD_SECTION\n1 0 0\n3 0 0\n", "7: not a routing problem: node 3 of 2"},
		{head + "NODE_COORD_SECTION\n1 0 0\n1 0 0\n", "7: not a routing problem: node 1 stands twice"},
		{head + "NODE_COORD_SECTION\n1 0 east\n", `6: not a routing problem: "east" is no number`},
		{head + places, "DEMAND_SECTION is missing"},
		{head + "DEMAND_SECTION\n1 0\n2 1\n", "NODE_COORD_SECTION is missing"},
		{head + places + "DEMAND_SECTION\n1 0\n2 1.5\n", "demand 1.5 of node 2"},
		{head + places + "DEMAND_SECTION\n1 0\n2 6\n", "demand 6 of node 2 exceeds the capacity 5"},
		{head + places + "DEMAND_SECTION\n1 0\n2 1\nDEPOT_SECTION\n2\n-1\n", "the depot is node 2"},
		{head + places + "DEMAND_SECTION\n1 0\n2 1\nDEPOT_SECTION\n1\n2\n-1\n", "more than one depot"},
		{head + "EDGE_WEIGHT_SECTION\n", `edge weight format "" is not known`},
	} {
		_, err := vrp.Parse(c.text)
		require.ErrorIs(t, err, vrp.ErrFormat, c.text)
		require.ErrorContains(t, err, c.says, c.text)
	}
}
