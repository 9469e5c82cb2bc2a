package placement

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner/demand"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// replay works a move list down on paper. It knows today's rows and the plan's
// lanes, and shares no code with what wrote the list.
type replay struct {
	in    Input
	lanes map[Spot]Lane
	types map[plant.RackCode]*plant.RackType
	// held is what lies in a lane, by part and station; the market has all.
	held map[Spot]map[[2]string]int
	// aside is what lies on the floor.
	aside  map[[2]string]int
	broken []string
}

func (r *replay) say(format string, args ...any) {
	r.broken = append(r.broken, fmt.Sprintf(format, args...))
}

// replayed starts with every row of a layout whose rows name their station.
func replayed(in Input, l Layout) *replay {
	r := &replay{in: in, lanes: map[Spot]Lane{}, types: map[plant.RackCode]*plant.RackType{}, held: map[Spot]map[[2]string]int{}, aside: map[[2]string]int{}}
	for _, rack := range l.Racks {
		r.types[rack.Rack] = rack.Type
	}
	for _, lane := range l.Lanes {
		r.lanes[Spot{lane.Rack, lane.Level, lane.Lane}] = lane
	}
	for _, row := range in.Index.Plant.Current {
		at := Spot{row.Rack, row.Level, row.Lane}
		if r.held[at] == nil {
			r.held[at] = map[[2]string]int{}
		}
		r.held[at][[2]string{string(row.Part), string(row.Station)}] += row.Containers
	}
	return r
}

func (r *replay) step(s Step) {
	who := [2]string{string(s.Part), string(s.Station)}
	if s.Containers < 1 || s.Time < 0 || s.Day < 1 {
		r.say("step %d is nothing: %+v", s.Step, s)
	}
	switch {
	case s.From == nil: // the market has any number
	case s.From.Level == 0:
		if r.aside[who] -= s.Containers; r.aside[who] < 0 {
			r.say("step %d takes from the floor what is not there", s.Step)
		}
	default:
		if r.held[*s.From][who] -= s.Containers; r.held[*s.From][who] < 0 {
			r.say("step %d takes %d of %v from %v, too many", s.Step, s.Containers, who, *s.From)
		}
		if r.held[*s.From][who] == 0 {
			delete(r.held[*s.From], who)
		}
	}
	switch {
	case s.To == nil:
	case s.To.Level == 0:
		r.aside[who] += s.Containers
	default:
		r.into(s, who)
	}
}

// into puts containers into a lane that holds nothing else and has the room.
func (r *replay) into(s Step, who [2]string) {
	if len(r.held[*s.To]) > 0 && r.held[*s.To][who] == 0 {
		r.say("step %d puts %v into %v beside %v", s.Step, who, *s.To, r.held[*s.To])
	}
	if r.held[*s.To] == nil {
		r.held[*s.To] = map[[2]string]int{}
	}
	r.held[*s.To][who] += s.Containers
	if most := r.capacity(*s.To, who); r.held[*s.To][who] > most {
		r.say("step %d: %d of %v in %v, which holds %d", s.Step, r.held[*s.To][who], who, *s.To, most)
	}
}

// capacity is what the plan says of its own lanes; of others it is the lane's
// length over the shortest side that fits its width.
func (r *replay) capacity(at Spot, who [2]string) int {
	lane := r.lanes[at]
	if !lane.Empty() {
		return lane.Capacity
	}
	box := r.in.Index.Containers[r.in.Index.Parts[plant.PartCode(who[0])].Container]
	most := 0
	for _, l := range r.types[at.Rack].Levels {
		if l.Level != at.Level {
			continue
		}
		for _, side := range box.Sides() {
			along, across := box.Along(side)
			if across+2*r.in.Plant.SideClearance <= lane.Width && box.Height+r.in.Plant.HandClearance <= l.ClearHeight {
				most = max(most, int(l.LaneLength/along))
			}
		}
	}
	return most
}

// ends compares what lies where at the end with the plan.
func (r *replay) ends(l Layout) {
	for who, n := range r.aside {
		if n != 0 {
			r.say("%d of %v stay on the floor", n, who)
		}
	}
	for _, lane := range l.Lanes {
		at := Spot{lane.Rack, lane.Level, lane.Lane}
		want := map[[2]string]int{}
		if !lane.Empty() {
			want[[2]string{string(lane.Loop.Part), string(lane.Loop.Station)}] = lane.Containers
		}
		if fmt.Sprint(r.held[at]) != fmt.Sprint(want) {
			r.say("%v ends with %v, the plan has %v", at, r.held[at], want)
		}
		delete(r.held, at)
	}
	for at, held := range r.held {
		if len(held) > 0 {
			r.say("%v ends with %v, the plan has no such lane", at, held)
		}
	}
}

// wrongSteps replays the steps of a layout and lists what is wrong with them.
func wrongSteps(in Input, l Layout) []string {
	r := replayed(in, l)
	for _, s := range Steps(in, l, DefaultMoving()) {
		r.step(s)
	}
	r.ends(l)
	return r.broken
}

// onOneLevel is a plan by hand: a rack with a level of five lanes for six
// containers each, of which the loops A, B, C... have one each.
func onOneLevel(lanes ...string) (Input, Layout) {
	s := newSmall(3, 3, 3, 3)
	s.plant.RackTypes[0].Levels[0].LaneLength, s.plant.RackTypes[0].Levels[0].UsableWidth = 2400*mm, 1700*mm
	in := s.input()
	l := Layout{Racks: in.Racks}
	for i, part := range lanes {
		lane := Lane{Rack: "R", Level: 1, Lane: i + 1, Kind: plant.Supply, Width: 320 * mm}
		if part != "" {
			lane.Loop, lane.Side = demand.Key{Part: plant.PartCode(part), Cell: "C", Station: "S"}, plant.LengthAlong
			lane.Capacity, lane.Containers = 6, 3
		}
		l.Lanes = append(l.Lanes, lane)
	}
	return in, l
}

func stepText(s Step) string {
	spot := func(s *Spot) string {
		switch {
		case s == nil:
			return "market"
		case s.Level == 0:
			return "floor"
		default:
			return fmt.Sprint(s.Lane)
		}
	}
	return fmt.Sprintf("%s %d %s %s>%s", s.Kind, s.Containers, s.Part, spot(s.From), spot(s.To))
}

func TestSteps(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name        string
		today, plan []string
		expect      []string
	}{
		{"as planned", []string{"A", "B"}, []string{"A", "B"}, nil},
		{"into a free lane", []string{"A", "B", ""}, []string{"", "B", "A"}, []string{"move 3 A 1>3"}},
		{"a chain, from its free end", []string{"A", "B", "C", ""}, []string{"", "A", "B", "C"},
			[]string{"move 3 C 3>4", "move 3 B 2>3", "move 3 A 1>2"}},
		{"a swap by way of a free lane", []string{"A", "B", ""}, []string{"B", "A", ""},
			[]string{"aside 3 A 1>3", "move 3 B 2>1", "back 3 A 3>2"}},
		{"a swap by way of the floor", []string{"A", "B"}, []string{"B", "A"},
			[]string{"aside 3 A 1>floor", "move 3 B 2>1", "back 3 A floor>2"}},
		{"a ring of three", []string{"A", "B", "C"}, []string{"B", "C", "A"},
			[]string{"aside 3 A 1>floor", "move 3 B 2>1", "move 3 C 3>2", "back 3 A floor>3"}},
		{"two rings", []string{"A", "B", "C", "D"}, []string{"B", "A", "D", "C"},
			[]string{"aside 3 A 1>floor", "move 3 B 2>1", "back 3 A floor>2", "aside 3 C 3>floor", "move 3 D 4>3", "back 3 C floor>4"}},
		{"what goes makes room", []string{"A", "Z", "B"}, []string{"B", "A", ""},
			[]string{"out 3 Z 2>market", "move 3 A 1>2", "move 3 B 3>1"}},
		{"what is new comes last", []string{"A", ""}, []string{"B", "A"}, []string{"move 3 A 1>2", "bring 3 B market>1"}},
		{"a chain behind a ring", []string{"A", "B", "C"}, []string{"B", "A", "", "C"}, []string{"move 3 C 3>4", "aside 3 A 1>3", "move 3 B 2>1", "back 3 A 3>2"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			in, l := onOneLevel(test.plan...)
			for i, part := range test.today {
				if part != "" {
					in.Index.Plant.Current = append(in.Index.Plant.Current, plant.CurrentLane{Rack: "R", Level: 1, Lane: i + 1, Part: plant.PartCode(part), Station: "S", Containers: 3})
				}
			}
			var got []string
			for _, s := range Steps(in, l, DefaultMoving()) {
				got = append(got, stepText(s))
			}
			assert.Equal(t, test.expect, got)
			assert.Empty(t, wrongSteps(in, l))
		})
	}
}

// A lane's number of containers is made that of the plan.
func TestStepsLevelNumbers(t *testing.T) {
	t.Parallel()
	in, l := onOneLevel("A", "A", "B")
	row := func(lane, n int, part plant.PartCode) plant.CurrentLane {
		return plant.CurrentLane{Rack: "R", Level: 1, Lane: lane, Part: part, Station: "S", Containers: n}
	}
	in.Index.Plant.Current = []plant.CurrentLane{row(1, 5, "A"), row(3, 1, "B"), row(4, 1, "B")}
	var got []string
	for _, s := range Steps(in, l, DefaultMoving()) {
		got = append(got, stepText(s))
	}
	assert.Equal(t, []string{"move 2 A 1>2", "move 1 B 4>3", "bring 1 A market>2", "bring 1 B market>3"}, got)
	assert.Empty(t, wrongSteps(in, l))
}

// A row without a number counts as its share of the loop's containers.
func TestStepsOfUnknownNumbers(t *testing.T) {
	t.Parallel()
	in, l := onOneLevel("", "A")
	in.Index.Plant.Current = []plant.CurrentLane{{Rack: "R", Level: 1, Lane: 1, Part: "A"}}
	steps := Steps(in, l, DefaultMoving())
	require.Len(t, steps, 1)
	assert.Equal(t, "move 3 A 1>2", stepText(steps[0]))
}

// A ring is broken where fewest containers lie, and a lane that can not hold
// them is no refuge.
func TestRefuge(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name   string
		change func(Input, *Layout)
		expect string
	}{
		{"a lane wide enough", func(Input, *Layout) {}, "aside 1 B 2>3"},
		{"1 mm too narrow", func(_ Input, l *Layout) { l.Lanes[2].Width = 319 * mm }, "aside 1 B 2>floor"},
		{"a return lane", func(_ Input, l *Layout) { l.Lanes[2].Kind = plant.Return }, "aside 1 B 2>floor"},
		{"the level full by mass", func(in Input, _ *Layout) { in.Racks[0].Levels[0].MassLimit = 4*kg - 1 }, "aside 1 B 2>floor"},
		{"no more on the level than before", func(in Input, _ *Layout) { in.Racks[0].Levels[0].MassLimit = 4 * kg }, "aside 1 B 2>3"},
		{"the rack full by mass", func(in Input, _ *Layout) { in.Racks[0].Type.MassLimit = 4*kg - 1 }, "aside 1 B 2>floor"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			in, l := onOneLevel("B", "A", "")
			in.Index.Plant.Current = []plant.CurrentLane{
				{Rack: "R", Level: 1, Lane: 1, Part: "A", Station: "S", Containers: 4}, {Rack: "R", Level: 1, Lane: 2, Part: "B", Station: "S", Containers: 1},
			}
			test.change(in, &l)
			var got []string
			for _, s := range Steps(in, l, DefaultMoving()) {
				got = append(got, stepText(s))
			}
			assert.Contains(t, got, test.expect)
		})
	}
}

// Steps take their containers' time and the walk there and back; a shift's time
// is not passed, and a ring is not left open at its end.
func TestStepTimes(t *testing.T) {
	t.Parallel()
	in, l := onOneLevel("B", "A", "D", "C")
	for i, part := range []plant.PartCode{"A", "B", "C", "D"} {
		in.Index.Plant.Current = append(in.Index.Plant.Current, plant.CurrentLane{Rack: "R", Level: 1, Lane: i + 1, Part: part, Station: "S", Containers: 3})
	}
	in.Index.Plant.Shifts = []plant.Shift{{Shift: "late", Start: 14 * time.Hour}, {Shift: "early", Start: 6 * time.Hour}}
	s := Moving{Container: 20 * time.Second, Speed: 1, Distance: 10, Shift: 4 * time.Minute}
	steps := Steps(in, l, s)
	require.Len(t, steps, 6)
	for _, step := range steps {
		assert.Equal(t, time.Minute, step.Time)
	}
	assert.Equal(t, []Turn{
		{Cell: "C", Day: 1, Shift: "early", Steps: 3, Containers: 9, Time: 3 * time.Minute},
		{Cell: "C", Day: 1, Shift: "late", Steps: 3, Containers: 9, Time: 3 * time.Minute},
	}, Turns(steps))
	s.Shift = 2 * time.Minute
	assert.Len(t, Turns(Steps(in, l, s)), 4)
	s.Shift = time.Second
	turns := Turns(Steps(in, l, s))
	assert.Equal(t, Turn{Cell: "C", Day: 3, Shift: "late", Steps: 1, Containers: 3, Time: time.Minute}, turns[5])
}

// The walk is the straight line, there and back; where a place is not known the
// setting's.
func TestStepWalks(t *testing.T) {
	t.Parallel()
	in, l := onOneLevel("A")
	in.Index.Plant.Current = []plant.CurrentLane{{Rack: "R", Level: 1, Lane: 2, Part: "Z", Station: "S", Containers: 1}}
	last := func() time.Duration {
		steps := Steps(in, l, Moving{Container: time.Second, Speed: 0.5, Distance: 10, Shift: time.Hour})
		return steps[len(steps)-1].Time
	}
	assert.Equal(t, 43*time.Second, last(), "3 containers, 2 · 10 m at 0.5 m/s")
	l.Racks = []structure.Rack{l.Racks[0]}
	l.Racks[0].Known, l.Racks[0].Place = true, plant.Place{X: 3 * units.Metre}
	in.Index.Plant.AislePoints = []plant.AislePoint{{Point: "M", Kind: plant.Market, Place: plant.Place{Y: 4 * units.Metre}}, {Point: "X", Kind: plant.Crossing}}
	assert.Equal(t, 23*time.Second, last(), "5 m to the market")
}

// Whatever today's layout is, its list can be worked down and ends in the plan.
func TestEveryListCanBeWorkedDown(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := throws(t)
		in := made(d, anyRecipe(d))
		l := hasty(in, 1)
		if scrambled(d, in, l); len(in.Index.Plant.Current) == 0 {
			return
		}
		if found := wrongSteps(in, l); len(found) > 0 {
			t.Fatalf("%v", found)
		}
	})
}

// scrambled makes a layout of today out of the plan: the lanes of a level, of a
// rack or of the cell change places at random, some stand empty, hold another
// number of containers or a part that is used no more.
func scrambled(d dice, in Input, l Layout) {
	p := in.Index.Plant
	p.Current = nil
	var lanes, full []Lane
	for _, lane := range l.Lanes {
		if r := in.Index.Racks[lane.Rack]; r != nil && lane.Kind == plant.Supply {
			lanes = append(lanes, lane)
			if !lane.Empty() {
				full = append(full, lane)
			}
		}
	}
	for i := len(full) - 1; i > 0; i-- {
		j := d(i + 1)
		full[i], full[j] = full[j], full[i]
	}
	gone := 0
	for _, at := range lanes {
		row := plant.CurrentLane{Rack: at.Rack, Level: at.Level, Lane: at.Lane}
		switch kind := d(10); {
		case kind == 0:
			continue
		case kind == 1 && len(p.Parts) > 0:
			gone++
			row.Part, row.Station, row.Containers = p.Parts[0].Part, plant.StationCode(fmt.Sprintf("gone %d", gone)), 1+d(4)
		case len(full) == 0:
			continue
		default:
			of := full[0]
			full = full[1:]
			if in.Index.Racks[of.Rack].Cell != in.Index.Racks[at.Rack].Cell {
				continue
			}
			row.Part, row.Station, row.Containers = of.Loop.Part, of.Loop.Station, max(1, of.Containers+d(3)-1)
		}
		p.Current = append(p.Current, row)
	}
}
