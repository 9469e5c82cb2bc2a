package drawing

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/importers"
	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
	"lanewright/testdata/plants"
)

const millimetre = units.Millimetre

// skerrowPlan is a quick plan of the made-up plant, in a unit of length.
func skerrowPlan(t testing.TB, unit string) (*plant.Plant, *planner.Plan) {
	t.Helper()
	read, err := importers.ReadBytes(context.Background(), plants.SkerrowName, plants.Skerrow)
	require.NoError(t, err)
	s := planner.DefaultSettings(&read.Plant)
	s.Plant.LengthUnit, read.Plant.Settings.LengthUnit = unit, unit
	require.NoError(t, s.Set("placement_steps", "0"))
	plan, err := planner.Run(context.Background(), planner.Input{Plant: &read.Plant}, s, planner.Options{Threads: 2})
	require.NoError(t, err)
	return &read.Plant, plan
}

// skerrow are the racks of that plan.
func skerrow(t testing.TB, unit string) []Rack {
	t.Helper()
	facts, plan := skerrowPlan(t, unit)
	racks, err := All(context.Background(), facts, plan, "7", 2)
	require.NoError(t, err)
	require.Len(t, racks, len(plan.Racks))
	return racks
}

// drawnRack draws any rack: one to eight levels, lanes of many widths, codes of
// any length in any letters.
func drawnRack(t *rapid.T) Rack {
	of := func(name string, low, high int) units.Length {
		return units.Length(rapid.IntRange(low, high).Draw(t, name)) * millimetre
	}
	kits := plant.ShippedKits()
	k := rapid.SampledFrom(kits).Draw(t, "kit")
	depth := of("depth", 600, 6000)
	r := Rack{Rack: code(t, "rack"), Cell: code(t, "cell"), Plan: code(t, "plan"), LengthUnit: rapid.SampledFrom([]string{"mm", "cm", "m", "in", "ft"}).Draw(t, "unit"), MassUnit: "kg"}
	rack := plant.RackType{RackType: plant.RackTypeCode(code(t, "type")), Width: of("width", 400, 6000), Depth: depth, OnCasters: rapid.Bool().Draw(t, "casters")}
	var lanes []structure.Lane
	at := of("first", 150, 600)
	for n := range rapid.IntRange(0, 8).Draw(t, "levels") {
		l := plant.Level{Level: n + 1, Kind: plant.Supply, PickHeight: at, Drop: of("drop", -300, 300), LaneLength: depth - of("margin", -60, 200), UsableWidth: rack.Width - 100*millimetre}
		if l.Drop < 0 {
			l.Kind = plant.Return
		}
		rack.Levels = append(rack.Levels, l)
		at += of("pitch", 60, 500)
		lanes = append(lanes, drawnLanes(t, l)...)
	}
	rack.Height = at + of("over", 0, 500)
	r.Frame, _ = structure.Build(&rack, &k, lanes)
	for i, l := range lanes {
		lane := Lane{Lane: l, Number: i + 1, Kind: plant.Supply, Station: "10"}
		if !l.Box.IsZero() {
			lane.Part = code(t, "part")
		}
		r.Lanes = append(r.Lanes, lane)
	}
	r.Build, _, _ = listed(context.Background(), r, 1, nil)
	return r
}

func code(t *rapid.T, name string) string {
	return rapid.OneOf(rapid.StringMatching(`[A-Z0-9-]{1,30}`), rapid.StringN(1, 12, 40), rapid.Just("Größe <½> & \"ß\"")).Draw(t, name)
}

// drawnLanes fill a level from the left.
func drawnLanes(t *rapid.T, l plant.Level) (list []structure.Lane) {
	at := units.Length(0)
	for len(list) < 20 {
		wide := units.Length(rapid.IntRange(60, 800).Draw(t, "wide")) * millimetre
		if at+wide > l.UsableWidth {
			return list
		}
		lane := structure.Lane{Level: l.Level, Offset: at, Width: wide}
		if rapid.IntRange(0, 3).Draw(t, "full") > 0 {
			lane.Box = structure.Box{Container: "BOX", Flow: wide, Across: wide - 10*millimetre, Height: units.Length(rapid.IntRange(50, 400).Draw(t, "high")) * millimetre}
			lane.Capacity = int(l.LaneLength / wide)
			lane.Containers = lane.Capacity / 2
		}
		list = append(list, lane)
		at += wide + 10*millimetre
	}
	return list
}

// recorder is paper that keeps what is drawn, and hands it on.
type recorder struct {
	to    Paper
	calls []string
	texts []Text
	lines [][]Point
	areas map[Shade][][]Point
	outline
}

func record(to Paper) *recorder {
	return &recorder{to: to, areas: map[Shade][][]Point{}, outline: outline{box{1e9, 1e9, -1e9, -1e9}}}
}

func (r *recorder) note(format string, a ...any) {
	r.calls = append(r.calls, fmt.Sprintf(format, a...))
}

func (r *recorder) Line(p Pen, at ...Point) {
	r.note("line %v %v", p, at)
	r.lines = append(r.lines, at)
	r.outline.Line(p, at...)
	if r.to != nil {
		r.to.Line(p, at...)
	}
}

func (r *recorder) Area(p Pen, f Shade, at ...Point) {
	r.note("area %v %v %v", p, f, at)
	r.areas[f] = append(r.areas[f], at)
	r.outline.Area(p, f, at...)
	if r.to != nil {
		r.to.Area(p, f, at...)
	}
}

func (r *recorder) Circle(p Pen, f Shade, middle Point, radius float64) {
	r.note("circle %v %v %v %v", p, f, middle, radius)
	r.outline.Circle(p, f, middle, radius)
	if r.to != nil {
		r.to.Circle(p, f, middle, radius)
	}
}

func (r *recorder) Rollers(from, to Point, pitch, radius float64) {
	r.note("rollers %v %v %v %v", from, to, pitch, radius)
	r.outline.Rollers(from, to, pitch, radius)
	if r.to != nil {
		r.to.Rollers(from, to, pitch, radius)
	}
}

func (r *recorder) Text(t Text) {
	r.note("text %+v", t)
	r.texts = append(r.texts, t)
	if r.to != nil {
		r.to.Text(t)
	}
}

// words are the texts that were written.
func (r *recorder) words() map[string]int {
	list := map[string]int{}
	for _, t := range r.texts {
		list[t.Text]++
	}
	return list
}

// recordView keeps what one view of a rack draws on its sheet.
func recordView(r Rack, v View) (*recorder, Size) {
	p := record(nil)
	body, s := r.viewSheet(v)
	body(p)
	return p, s
}
