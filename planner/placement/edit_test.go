package placement

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

func keyOf(part plant.PartCode) demand.Key {
	return demand.Key{Part: part, Cell: "C", Station: "S"}
}

// firstOf is the first lane of a part.
func firstOf(l Layout, part plant.PartCode) Spot {
	for _, lane := range l.Lanes {
		if lane.Loop.Part == part {
			return Spot{lane.Rack, lane.Level, lane.Lane}
		}
	}
	return Spot{}
}

// lanesAt writes a level as people do: "A A - B".
func lanesAt(l Layout, level int) string {
	var names []string
	for _, lane := range l.Lanes {
		if lane.Level == level {
			name := string(lane.Loop.Part)
			if lane.Empty() {
				name = "-"
			}
			names = append(names, name)
		}
	}
	return strings.Join(names, " ")
}

// pinnedTo pins parts to level 1 or 2, so that the layout of a test is known.
func (s *small) pinnedTo(level int, parts ...plant.PartCode) {
	for _, p := range parts {
		s.plant.Pins = append(s.plant.Pins, plant.Pin{Part: p, Rack: "R", Level: level})
	}
}

// TestEditsByHand follows lanes by hand: three of 320 mm with 10 mm guides fill a
// level of 1000 mm, each holds three containers.
func TestEditsByHand(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name     string
		edits    []Edit
		low      string
		high     string
		unplaced int
		broken   []string
	}{
		{"nothing", nil, "A A B", "C - -", 0, nil},
		{"a move into free lanes", []Edit{MoveLoop{Loop: keyOf("B"), To: Spot{Rack: "R", Level: 2}}}, "A A -", "C B -", 0, nil},
		{"a move to a lane", []Edit{MoveLoop{Loop: keyOf("B"), To: Spot{"R", 2, 3}}}, "A A -", "C - B", 0, nil},
		{"a move before others", []Edit{MoveLoop{Loop: keyOf("B"), To: Spot{"R", 2, 1}}}, "A A -", "B C -", 0, nil},
		{"a move along its level", []Edit{MoveLoop{Loop: keyOf("C"), To: Spot{"R", 2, 2}}}, "A A B", "- C -", 0, nil},
		{"a move of some", []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "R", Level: 2}, Containers: 3}}, "A - B", "C A -", 0, nil},
		{"a move to a full level", []Edit{MoveLoop{Loop: keyOf("C"), To: Spot{Rack: "R", Level: 1}}}, "A A B C", "- - -", 0, []string{CodeEditNoRoom}},
		{"a swap", []Edit{SwapLoops{keyOf("A"), keyOf("C")}}, "C B -", "A A -", 0, nil},
		{"a swap within the level", []Edit{SwapLoops{keyOf("A"), keyOf("B")}}, "B A A", "C - -", 0, nil},
		{"a hole, then what fits it", []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "R", Level: 2}}, MoveLoop{Loop: keyOf("C"), To: Spot{Rack: "R", Level: 1}}}, "C - B", "- A A", 0, nil},
		{"a closed lane that is used", []Edit{CloseLane{Spot{"R", 1, 2}}}, "A A B", "C - -", 0, []string{CodeEditClosed}},
		{"a closed lane is passed over", []Edit{CloseLane{Spot{"R", 2, 2}}, MoveLoop{Loop: keyOf("B"), To: Spot{Rack: "R", Level: 2}}}, "A A -", "C - B", 0, nil},
		{"a lane closed and opened again", []Edit{CloseLane{Spot{"R", 2, 2}}, OpenLane{Spot{"R", 2, 2}}, MoveLoop{Loop: keyOf("B"), To: Spot{Rack: "R", Level: 2}}}, "A A -", "C B -", 0, nil},
		{"an open lane is opened", []Edit{OpenLane{Spot{"R", 1, 2}}}, "A A B", "C - -", 0, []string{CodeEditRefused}},
		{"a pin elsewhere", []Edit{PinLoop{keyOf("C"), Spot{Rack: "R", Level: 1}}}, "A A B", "C - -", 0, []string{CodeEditPin}},
		{"a pin taken off", []Edit{PinLoop{keyOf("C"), Spot{Rack: "R", Level: 1}}, UnpinLoop{keyOf("C")}}, "A A B", "C - -", 0, nil},
		{"an unknown rack", []Edit{MoveLoop{Loop: keyOf("C"), To: Spot{Rack: "Q", Level: 1}}}, "A A B", "C - -", 0, []string{CodeEditRefused}},
		{"an unknown loop", []Edit{UnpinLoop{keyOf("Z")}}, "A A B", "C - -", 0, []string{CodeEditRefused}},
		{"an unknown lane", []Edit{CloseLane{Spot{"R", 1, 9}}}, "A A B", "C - -", 0, []string{CodeEditRefused}},
		{"a return level", []Edit{MoveLoop{Loop: keyOf("C"), To: Spot{Rack: "R", Level: 3}}}, "A A B", "C - -", 0, []string{CodeEditRefused}},
		// 1 a minute in packs of 10, response time 0: 10 pieces, 1 card, 2 containers.
		{"a shorter interval", []Edit{ChangeInterval{keyOf("A"), 10 * time.Minute}}, "A - B", "C - -", 0, nil},
		// 90 pieces, 9 cards, 10 containers, of which A's two lanes hold 6.
		{"a longer interval", []Edit{ChangeInterval{keyOf("A"), 90 * time.Minute}}, "A A B", "C - -", 4, []string{CodeEditUnplaced}},
		// 60 pieces in packs of 120: 1 card, 2 containers.
		{"a fuller container", []Edit{ChangeContainer{keyOf("A"), "tote", 120}}, "A - B", "C - -", 0, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(6, 3, 2)
			s.pinnedTo(1, "A", "B")
			s.pinnedTo(2, "C")
			in := s.input()
			l := placed(in, 1)
			for _, k := range []plant.PartCode{"A", "B", "C"} {
				test.edits = append([]Edit{UnpinLoop{keyOf(k)}}, test.edits...)
			}
			require.Equal(t, Spot{"R", 1, 1}, firstOf(l, "A"))
			e := Apply(in, DefaultSettings(), l, test.edits)
			assert.Equal(t, test.low, lanesAt(e.On(l), 1))
			assert.Equal(t, test.high, lanesAt(e.On(l), 2))
			var codes []string
			for _, f := range e.Broken {
				codes = append(codes, f.Code)
			}
			assert.Equal(t, test.broken, codes)
			assert.Equal(t, test.unplaced, e.Cells[0].After.Unplaced)
		})
	}
}

// TestEditCodes raises each rule with its numbers.
func TestEditCodes(t *testing.T) {
	t.Parallel()
	up := []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "R", Level: 2}}}
	tests := []struct {
		name    string
		change  func(s *small)
		edits   []Edit
		code    string
		measure *finding.Measure
	}{
		{"height", func(s *small) { s.plant.RackTypes[0].Levels[1].ClearHeight = 180 * mm }, up, CodeEditTooTall, &finding.Measure{Value: 210, Limit: 180, Unit: "mm"}},
		{"length", func(s *small) { s.plant.RackTypes[0].Levels[1].LaneLength = 390 * mm }, up, CodeEditTooLong, &finding.Measure{Value: 400, Limit: 390, Unit: "mm"}},
		{"level mass", func(s *small) {
			s.plant.RackTypes[0].Levels[1].MassLimit = 4 * kg
			s.pinnedTo(2, "B")
			s.pinnedTo(1, "A")
		}, []Edit{UnpinLoop{keyOf("A")}, up[0]}, CodeEditLevelMass, &finding.Measure{Value: 9, Limit: 4, Unit: "kg"}},
		{"rack mass", func(s *small) {
			t := s.plant.RackTypes[0]
			t.RackType, t.MassLimit = "weak", 4*kg
			s.plant.RackTypes = append(s.plant.RackTypes, t)
			s.plant.Racks = append(s.plant.Racks, plant.Rack{Rack: "W", RackType: "weak", Cell: "C"})
		}, []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "W", Level: 1}}}, CodeEditRackMass, &finding.Measure{Value: 5, Limit: 4, Unit: "kg"}},
		{"fixed lanes", func(s *small) {
			s.plant.Racks[0].FixedLanes = []plant.FixedLanes{{Level: 2, Widths: []units.Length{300 * mm, 320 * mm}}}
		}, []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{"R", 2, 1}}}, CodeEditNarrow, &finding.Measure{Value: 320, Limit: 300, Unit: "mm"}},
		{"walk limit", func(s *small) {
			s.plant.Stations[0].Place, s.plant.Racks[0].Place = &plant.Place{}, &plant.Place{}
			s.plant.Racks = append(s.plant.Racks, plant.Rack{Rack: "F", RackType: "flow", Cell: "C", Place: &plant.Place{X: 6 * units.Metre}})
		}, []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "F", Level: 1}}}, CodeEditWalk, &finding.Measure{Value: 6, Limit: 5, Unit: "m"}},
		{"another cell's rack", func(s *small) {
			s.plant.Cells = append(s.plant.Cells, plant.Cell{Cell: "D"})
			s.plant.Stations = append(s.plant.Stations, plant.Station{Station: "S", Cell: "D"})
			s.plant.Racks = append(s.plant.Racks, plant.Rack{Rack: "F", RackType: "flow", Cell: "D"})
		}, []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "F", Level: 1}}}, CodeEditNotServed, nil},
		{"look-alikes", func(s *small) { s.plant.Parts[0].LookAlike = "B"; s.pinnedTo(2, "B"); s.pinnedTo(1, "A") },
			[]Edit{UnpinLoop{keyOf("A")}, MoveLoop{Loop: keyOf("A"), To: Spot{"R", 2, 1}}}, CodeEditApart, nil},
		{"flow side", func(*small) {}, []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "R", Level: 2}, Side: plant.WidthAlong}}, CodeEditSide, nil},
		{"gross limit", func(s *small) { s.plant.Containers[0].GrossLimit = 3 * kg }, []Edit{ChangeContainer{keyOf("A"), "tote", 50}}, CodeEditGrossLimit, &finding.Measure{Value: 5, Limit: 3, Unit: "kg"}},
		{"room", func(*small) {}, []Edit{MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "R", Level: 2}}, MoveLoop{Loop: keyOf("B"), To: Spot{Rack: "R", Level: 2}}},
			CodeEditNoRoom, &finding.Measure{Value: 1310, Limit: 1000, Unit: "mm"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			s := newSmall(5, 6)
			test.change(s)
			in := s.input()
			l := placed(in, 1)
			e := Apply(in, DefaultSettings(), l, test.edits)
			var found *finding.Finding
			for i := range e.Broken {
				if e.Broken[i].Code == test.code {
					found = &e.Broken[i]
				}
			}
			require.NotNil(t, found, "%+v", e.Broken)
			assert.Equal(t, finding.Error, found.Severity)
			assert.NotEmpty(t, found.Remedy)
			assert.NotEmpty(t, found.Detail)
			if test.measure != nil {
				assert.Equal(t, test.measure, found.Measure)
			}
			assert.Equal(t, wrongs(in, e, l), reported(e))
		})
	}
}

// What an edit changes is told: lanes, effort, containers moved, and the cost of an
// added rack that nothing needs any longer.
func TestEditTellsWhatChanges(t *testing.T) {
	t.Parallel()
	s := newSmall(6, 3, 2)
	s.plant.Cells[0].Frontage = 0
	s.plant.RackTypes[0].Cost = 900 * units.Unit
	s.plant.RackTypes[0].Levels[1].UsableWidth = 700 * mm
	s.pinnedTo(1, "A", "B")
	in := s.input()
	l := placed(in, 1)
	e := Apply(in, DefaultSettings(), l, []Edit{UnpinLoop{keyOf("A")}, MoveLoop{Loop: keyOf("A"), To: Spot{Rack: "R", Level: 2}}})
	var c LoopChange
	for _, x := range e.Changes {
		if x.Loop.Part == "A" {
			c = x
		}
	}
	assert.Len(t, c.Before, 2)
	assert.Len(t, c.After, 2)
	assert.Equal(t, 6, c.Moved)
	assert.Equal(t, [2]int{2, 2}, c.Needed)
	cell := e.Cells[0]
	sum := 0.0
	for _, x := range e.Changes {
		sum += x.Effort[1] - x.Effort[0]
	}
	assert.InDelta(t, sum, cell.After.Effort-cell.Before.Effort, 1e-9)
	assert.NotZero(t, sum)
}
