package placement

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// small is a cell with one rack of two supply levels, 1000 mm usable, lanes of
// 1200 mm, and loops of 400 x 300 x 150 mm containers that lie lengthwise: 3 to
// a lane of 320 mm, so 3 lanes to a level.
type small struct {
	plant *plant.Plant
	loops []sizing.Loop
}

func newSmall(containers ...int) *small {
	p := &plant.Plant{Settings: plant.DefaultSettings()}
	p.Cells = []plant.Cell{{Cell: "C", Frontage: 1100 * mm}}
	p.Stations = []plant.Station{{Station: "S", Cell: "C", WalkLimit: 5 * units.Metre}}
	p.Containers = []plant.Container{{Container: "tote", Length: 400 * mm, Width: 300 * mm, Height: 150 * mm, FlowSide: plant.LengthAlong, Nests: units.Int(1)}}
	level := func(n int, kind plant.LevelKind, height units.Length) plant.Level {
		return plant.Level{Level: n, Kind: kind, PickHeight: height * mm, Drop: 50 * mm, LaneLength: 1200 * mm, UsableWidth: 1000 * mm, ClearHeight: 300 * mm}
	}
	p.RackTypes = []plant.RackType{{RackType: "flow", Width: 1100 * mm, Depth: 1300 * mm, Height: 1800 * mm,
		Levels: []plant.Level{level(1, plant.Supply, 600), level(2, plant.Supply, 1000), level(3, plant.Return, 1500)}}}
	p.Racks = []plant.Rack{{Rack: "R", RackType: "flow", Cell: "C"}}
	s := &small{plant: p}
	for i, k := range containers {
		part := plant.PartCode(rune('A' + i))
		p.Parts = append(p.Parts, plant.Part{Part: part, Container: "tote", Pack: 10, PieceMass: 100 * units.Gram})
		l := sizing.Loop{Containers: k, Gross: kg}
		l.Key = demand.Key{Part: part, Cell: "C", Station: "S"}
		l.Container, l.Pack, l.Rate, l.Interval, l.Model = "tote", 10, units.Int(1), time.Hour, plant.SteadyModel
		s.loops = append(s.loops, l)
	}
	return s
}

func (s *small) input() Input {
	x := plant.NewIndex(s.plant)
	return Input{Index: x, Loops: s.loops, Racks: structure.Racks(x), Plant: s.plant.Settings}
}

func TestReasons(t *testing.T) {
	t.Parallel()
	level := func(s *small, n int) *plant.Level { return &s.plant.RackTypes[0].Levels[n-1] }
	both := func(s *small, change func(*plant.Level)) { change(level(s, 1)); change(level(s, 2)) }
	tests := []struct {
		name       string
		containers []int
		change     func(*small)
		reason     string
		unplaced   int
		measure    *finding.Measure
	}{
		{"the station has no rack", []int{3}, func(s *small) {
			s.plant.Racks, s.plant.Cells[0].RackTypes = nil, []plant.RackTypeCode{"none"}
		}, CodeNoRack, 3, nil},
		{"the rack is too far", []int{3}, func(s *small) {
			s.plant.Stations[0].Place, s.plant.Racks[0].Place = &plant.Place{}, &plant.Place{X: 3 * units.Metre, Y: 4*units.Metre + 1}
			s.plant.Cells[0].RackTypes = []plant.RackTypeCode{"none"}
		}, CodeBeyondWalk, 3, &finding.Measure{Value: 5, Limit: 5, Unit: "m"}},
		{"return levels only", []int{3}, func(s *small) { both(s, func(l *plant.Level) { l.Kind = plant.Return }) }, CodeNoSupply, 3, nil},
		{"1 mm too tall", []int{3}, func(s *small) { both(s, func(l *plant.Level) { l.ClearHeight = 209 * mm }) }, CodeTooTall, 3, &finding.Measure{Value: 210, Limit: 209, Unit: "mm"}},
		{"1 mm too long", []int{3}, func(s *small) { both(s, func(l *plant.Level) { l.LaneLength = 399 * mm }) }, CodeTooLong, 3, &finding.Measure{Value: 400, Limit: 399, Unit: "mm"}},
		{"1 mm too wide", []int{3}, func(s *small) { both(s, func(l *plant.Level) { l.UsableWidth = 319 * mm }) }, CodeTooWide, 3, &finding.Measure{Value: 320, Limit: 319, Unit: "mm"}},
		{"1 g too heavy", []int{3}, func(s *small) { both(s, func(l *plant.Level) { l.MassLimit = kg - units.Gram }) }, CodeTooHeavy, 3, &finding.Measure{Value: 1, Limit: 0.999, Unit: "kg"}},
		{"a pin to a rack that does not serve", []int{3}, func(s *small) {
			s.plant.Stations = append(s.plant.Stations, plant.Station{Station: "T", Cell: "C", WalkLimit: 5 * units.Metre})
			s.plant.Racks[0].Stations, s.plant.Pins = []plant.StationCode{"T"}, []plant.Pin{{Part: "A", Rack: "R"}}
		}, CodePin, 3, nil},
		{"a pin to a lane that can not be", []int{3}, func(s *small) { s.plant.Pins = []plant.Pin{{Part: "A", Rack: "R", Level: 2, Lane: 4}} }, CodePin, 3, nil},
		{"a pin to a level too narrow", []int{12}, func(s *small) { s.plant.Pins = []plant.Pin{{Part: "A", Rack: "R", Level: 2}} }, CodePin, 3, &finding.Measure{Value: 4, Limit: 3, Unit: "lanes"}},
		{"a pin to a level too weak", []int{6}, func(s *small) {
			s.plant.Pins = []plant.Pin{{Part: "A", Rack: "R", Level: 2}}
			both(s, func(l *plant.Level) { l.MassLimit = 4 * kg })
		}, CodePin, 2, &finding.Measure{Value: 6, Limit: 4, Unit: "containers"}},
		{"seven lanes where six fit", []int{9, 9, 3}, func(*small) {}, CodeFrontageUsed, 3, &finding.Measure{Value: 1100, Limit: 0, Unit: "mm"}},
		{"the racks that stand exceed the frontage", []int{9, 9, 3}, func(s *small) { s.plant.Cells[0].Frontage = 500 * mm }, CodeFrontageUsed, 3, &finding.Measure{Value: 1100, Limit: 0, Unit: "mm"}},
		{"only an added rack would hold it", []int{3}, func(s *small) {
			high := s.plant.RackTypes[0]
			high.RackType, high.Levels = "high", slices.Clone(high.Levels)
			both(s, func(l *plant.Level) { l.ClearHeight = 209 * mm })
			s.plant.RackTypes = append(s.plant.RackTypes, high)
		}, CodeFrontageUsed, 3, &finding.Measure{Value: 1100, Limit: 0, Unit: "mm"}},
		{"and no type to add", []int{9, 9, 3}, func(s *small) { s.plant.Cells[0].RackTypes = []plant.RackTypeCode{"none"} }, CodeNoRoom, 3, &finding.Measure{Value: 320, Limit: 10, Unit: "mm"}},
		{"a full level pinned", []int{9, 3}, func(s *small) {
			s.plant.Pins = []plant.Pin{{Part: "A", Rack: "R", Level: 1}, {Part: "B", Rack: "R", Level: 1}}
		}, CodeNoRoom, 3, &finding.Measure{Value: 320, Limit: 10, Unit: "mm"}},
		{"room but no load", []int{3, 3}, func(s *small) {
			both(s, func(l *plant.Level) { l.MassLimit = 3500 * units.Gram })
			s.plant.Cells[0].RackTypes = []plant.RackTypeCode{"none"}
			s.plant.RackTypes[0].MassLimit = 3 * kg
		}, CodeNoLoadLeft, 3, &finding.Measure{Value: 1, Limit: 0, Unit: "kg"}},
		{"look-alikes on one level of three lanes", []int{3, 6}, func(s *small) {
			s.plant.Parts[0].LookAlike = "B"
			s.plant.Pins = []plant.Pin{{Part: "A", Rack: "R", Level: 1}, {Part: "B", Rack: "R", Level: 1}}
		}, CodeKeptApart, 3, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(test.containers...)
			test.change(s)
			in := s.input()
			l := placed(in, 1)
			require.Empty(t, broken(in, l))
			require.Len(t, l.Unplaced, 1)
			u := l.Unplaced[0]
			assert.Equal(t, test.reason, u.Reason)
			assert.Equal(t, test.unplaced, u.Containers)
			var f finding.Finding
			for _, found := range l.Findings {
				if found.Code == u.Reason {
					f = found
				}
			}
			assert.Equal(t, finding.Warning, f.Severity)
			assert.NotEmpty(t, f.Remedy)
			assert.NotContains(t, f.Remedy, "add a rack.", "the frontage forbids it")
			assert.Regexp(t, "^[A-Z]", f.Summary)
			assert.NotRegexp(t, "\\b1 (lane|container|loop)s", f.Summary+f.Detail+f.Remedy)
			if test.measure != nil {
				require.NotNil(t, f.Measure)
				assert.InDelta(t, test.measure.Value, f.Measure.Value, 1e-6)
				assert.InDelta(t, test.measure.Limit, f.Measure.Limit, 1e-6)
				assert.Equal(t, test.measure.Unit, f.Measure.Unit)
			}
		})
	}
}

// At the limit itself everything fits.
func TestLimitsAreInclusive(t *testing.T) {
	t.Parallel()
	s := newSmall(9)
	for i := range s.plant.RackTypes[0].Levels {
		l := &s.plant.RackTypes[0].Levels[i]
		l.ClearHeight, l.UsableWidth, l.MassLimit = 210*mm, 980*mm, 9*kg
	}
	s.plant.RackTypes[0].OwnMass, s.plant.RackTypes[0].MassLimit = 50*kg, 59*kg
	s.plant.Stations[0].Place, s.plant.Racks[0].Place = &plant.Place{}, &plant.Place{X: 3 * units.Metre, Y: 4 * units.Metre}
	in := s.input()
	l := placed(in, 1)
	assert.Empty(t, l.Unplaced)
	assert.Empty(t, broken(in, l))
}

func TestEveryCodeHasAPage(t *testing.T) {
	t.Parallel()
	pages := map[string]bool{}
	for _, p := range Pages() {
		assert.False(t, pages[p.Code], p.Code)
		assert.NotEmpty(t, p.Title)
		assert.NotEmpty(t, p.Text)
		pages[p.Code] = true
	}
	for _, code := range []string{CodeNoRack, CodeBeyondWalk, CodeNoSupply, CodeTooTall, CodeTooLong, CodeTooWide, CodeTooHeavy, CodePin, CodeNoRoom,
		CodeNoLoadLeft, CodeKeptApart, CodeFrontageUsed, CodeTooMany, CodeSplit, CodeRacksAdded, CodeRollerPitch, CodeReturnShort, CodeNoReturn, CodeNoCost, CodeCurrentLevel,
		CodeEditRefused, CodeEditNotServed, CodeEditWalk, CodeEditTooTall, CodeEditTooLong, CodeEditSide, CodeEditNarrow, CodeEditNoRoom, CodeEditLevelMass, CodeEditRackMass, CodeEditApart, CodeEditClosed, CodeEditPin, CodeEditUnplaced, CodeEditGrossLimit} {
		assert.True(t, pages[code], code)
	}
}

// A wrong unit asks for a hundred thousand containers: the planner stays quick
// and says what to check.
func TestAbsurdLoop(t *testing.T) {
	t.Parallel()
	s := newSmall(sizing.MostContainers)
	s.plant.Cells[0].Frontage = 0
	in := s.input()
	l := placed(in, 1)
	require.Len(t, l.Unplaced, 1)
	assert.Equal(t, CodeTooMany, l.Unplaced[0].Reason)
	assert.Empty(t, broken(in, l))
}
