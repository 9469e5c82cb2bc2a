package drawing

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lanewright/planner"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// apartAndInside fails where two texts meet, one is smaller than can be read, or
// anything is outside what a printer prints.
func apartAndInside(t require.TestingT, p *recorder, s Size, where string) {
	in := s.inside().within(-0.5)
	require.True(t, in.holds(p.box), "%s: drawn %v on a sheet of %v", where, p.box, s)
	extents := make([]box, len(p.texts))
	for i, a := range p.texts {
		extents[i] = a.extent()
		require.GreaterOrEqual(t, a.Size, leastSize-1e-9, "%s: %q", where, a.Text)
		require.True(t, in.holds(a.extent()), "%s: %q stands outside at %v", where, a.Text, a.extent())
		for n, b := range p.texts[:i] {
			if extents[i].meets(extents[n]) {
				require.Fail(t, "texts meet", "%s: %q lies over %q", where, a.Text, b.Text)
			}
		}
	}
}

// TestNothingOutsideThePage: of any rack, all that is drawn stays on the sheet
// and no text lies over another.
func TestNothingOutsideThePage(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := drawnRack(t)
		for _, v := range Views() {
			p, s := recordView(r, v)
			apartAndInside(t, p, s, string(v))
			if v == PlanView {
				continue
			}
			for _, m := range sorted(r.pickHeights()) {
				require.Positive(t, p.words()[m.text], "%s: %q is left out", v, m.text)
			}
		}
		for i, sheet := range r.sheets() {
			p := record(nil)
			sheet(p)
			apartAndInside(t, p, r.measure().sheet(), fmt.Sprintf("page %d", i+1))
		}
	})
}

// TestTheMadeUpPlantsRacks: labels keep apart in both systems of units, and the
// part of each lane is named in the front view or in the table beside it.
func TestTheMadeUpPlantsRacks(t *testing.T) {
	t.Parallel()
	for _, unit := range []string{"mm", "in"} {
		for _, r := range skerrow(t, unit) {
			where := unit + " " + r.Rack
			for _, v := range Views() {
				p, s := recordView(r, v)
				apartAndInside(t, p, s, where+" "+string(v))
				if v == SideView {
					continue
				}
				whole := strings.Join(sortedWords(p), "\n")
				for _, l := range r.Lanes {
					assert.Contains(t, whole, l.Part, "%s %s", where, v)
					assert.Contains(t, whole, l.Address(), "%s %s", where, v)
				}
			}
			twoPages(t, r, where)
		}
	}
}

// twoPages fails where a build sheet is longer, or its pages are not in order.
func twoPages(t *testing.T, r Rack, where string) {
	t.Helper()
	sheets := r.sheets()
	assert.LessOrEqual(t, len(sheets), 2, where)
	for i, sheet := range sheets {
		p := record(nil)
		sheet(p)
		apartAndInside(t, p, r.measure().sheet(), where)
		assert.Equal(t, 1, p.words()[fmt.Sprintf("page %d of %d", i+1, len(sheets))], where)
	}
}

// TestShippedTypesOnTwoPages: every rack type that the program ships, empty and
// full of lanes, in both systems of units, is a build sheet of two pages.
func TestShippedTypesOnTwoPages(t *testing.T) {
	t.Parallel()
	for _, unit := range []string{"mm", "in"} {
		kit := plant.ShippedKit(unit)
		for _, rack := range plant.ShippedRackTypes() {
			for _, wide := range []units.Length{0, 316, 216} {
				r := filled(&rack, &kit, wide*millimetre, unit)
				twoPages(t, r, fmt.Sprintf("%s %s, lanes of %d mm", unit, rack.RackType, wide))
			}
		}
	}
}

// filled is a rack with lanes of a width, 0 for none, on every level.
func filled(rack *plant.RackType, kit *plant.Kit, wide units.Length, unit string) Rack {
	r := Rack{Rack: "CELL-N12", Cell: "CELL-12", Plan: "facts 979fa68beacb, seed 1871", LengthUnit: unit, MassUnit: "kg"}
	var lanes []structure.Lane
	for _, l := range rack.Levels {
		n := 0
		for at := units.Length(0); wide > 0 && at+wide <= l.UsableWidth; at += wide + 10*millimetre {
			lane := structure.Lane{Level: l.Level, Offset: at, Width: wide}
			if l.Kind == plant.Supply {
				lane.Box = structure.Box{Container: "B4315", Flow: 396 * millimetre, Across: wide - 16*millimetre, Height: 147 * millimetre, Gross: 9 * units.Kilogram}
				lane.Capacity, lane.Containers = int(l.LaneLength/lane.Box.Flow), 2
			}
			n++
			lanes = append(lanes, lane)
			r.Lanes = append(r.Lanes, Lane{Lane: lane, Number: n, Kind: l.Kind, Part: fmt.Sprintf("45%02d-%c", 10*l.Level+n, 'A'+n), Station: "040"})
		}
	}
	frame, found := structure.Build(rack, kit, lanes)
	s, more := structure.Screen(frame, structure.DefaultLimits())
	r.Frame, r.Screening = frame, screened(s, r.MassUnit, units.NewSpeech(r.LengthUnit, r.MassUnit, slices.Values([]string(nil))))
	for _, f := range append(found, more...) {
		r.Findings = append(r.Findings, f.Summary+". "+f.Remedy)
	}
	r.Build, _, _ = listed(context.Background(), r, 1, nil)
	return r
}

func sortedWords(p *recorder) (list []string) {
	for _, t := range p.texts {
		list = append(list, t.Text)
	}
	return list
}

// scaleOf reads the scale from a sheet's caption.
func scaleOf(t *testing.T, p *recorder) float64 {
	t.Helper()
	for _, one := range p.texts {
		if _, s, ok := strings.Cut(one.Text, ", 1:"); ok {
			times, err := strconv.ParseFloat(s, 64)
			require.NoError(t, err)
			return times
		}
	}
	require.Fail(t, "no scale")
	return 0
}

// TestSpansSayWhatTheyMeasure: the number of each dimension below a view is the
// length of the line under it, times the scale, and those of the frame are there.
func TestSpansSayWhatTheyMeasure(t *testing.T) {
	t.Parallel()
	for _, r := range skerrow(t, "mm") {
		for v, want := range map[View][]units.Length{
			FrontView: {r.Frame.Width, r.Frame.Width - 2*r.Frame.Members[0].Part.Width},
			SideView:  {r.Frame.Depth, r.Frame.Rows[1] - r.Frame.Rows[0]},
		} {
			p, _ := recordView(r, v)
			times := scaleOf(t, p)
			for _, one := range want {
				assert.Positive(t, p.words()[measure("mm").long(one)], "%s %s: %s", r.Rack, v, one)
			}
			for _, text := range p.texts {
				long, err := strconv.ParseFloat(text.Text, 64)
				if err != nil || text.Anchor != AtMiddle || text.Size != plainSize || r.holds(text.Text) {
					continue
				}
				assert.True(t, measures(p, text.At, long/times), "%s %s: %s", r.Rack, v, text.Text)
			}
		}
	}
}

// holds reports whether text is the code of a part of the rack.
func (r *Rack) holds(text string) bool {
	return slices.ContainsFunc(r.Lanes, func(l Lane) bool { return l.Part == text })
}

// measures reports whether a level line as long as that lies right under a text.
func measures(p *recorder, at Point, long float64) bool {
	for _, l := range p.lines {
		if len(l) != 2 || l[0].Y != l[1].Y {
			continue
		}
		middle := (l[0].X + l[1].X) / 2
		if math.Abs(l[1].X-l[0].X-long) < 0.01 && math.Abs(middle-at.X) < 0.01 && l[0].Y > at.Y && l[0].Y-at.Y < 1 {
			return true
		}
	}
	return false
}

// TestHeightsStandWhereTheySay: each level's height is written, and a line leads
// to it from as high over the floor on the paper.
func TestHeightsStandWhereTheySay(t *testing.T) {
	t.Parallel()
	for _, r := range skerrow(t, "mm") {
		p, _ := recordView(r, SideView)
		times, floor := scaleOf(t, p), floorOf(p)
		for _, d := range r.Frame.Decks {
			assert.Equal(t, 1, p.words()[fmt.Sprintf("level %d: %s", d.Level, measure("mm").long(d.PickHeight))])
			for _, h := range []units.Length{d.PickHeight, d.LoadHeight()} {
				assert.True(t, leads(p, floor-h.MM()/times), "%s level %d: %s", r.Rack, d.Level, h)
			}
			drop := fmt.Sprintf("%s, drop %s, 1 in %s", measure("mm").long(d.LoadHeight()), measure("mm").long(d.Drop), decimal(float64(d.LaneLength)/float64(d.Drop), 1))
			if d.Drop > 0 {
				assert.Equal(t, 1, p.words()[drop], drop)
			}
		}
	}
}

// floorOf is how far down the floor line lies: the longest level line.
func floorOf(p *recorder) (y float64) {
	longest := 0.0
	for _, l := range p.lines {
		if long := l[len(l)-1].X - l[0].X; l[0].Y == l[1].Y && long > longest && long < 200 {
			longest, y = long, l[0].Y
		}
	}
	return y
}

func leads(p *recorder, y float64) bool {
	for _, l := range p.lines {
		if len(l) == 3 && math.Abs(l[0].Y-y) < 0.01 && l[0].Y == l[1].Y {
			return true
		}
	}
	return false
}

// TestContainersLieOnTheirLane: the lower corners of every container that the cut
// shows lie on the lane surface, and as many are shown as are planned.
func TestContainersLieOnTheirLane(t *testing.T) {
	t.Parallel()
	for _, r := range skerrow(t, "mm") {
		p, _ := recordView(r, SideView)
		times, floor := scaleOf(t, p), floorOf(p)
		planned := 0
		for _, d := range r.Frame.Decks {
			if l, ok := r.cutLane(d.Level); ok {
				planned += l.Containers
			}
		}
		assert.Len(t, p.areas[Pale], planned, r.Rack)
		for _, c := range p.areas[Pale] {
			assert.True(t, lies(r.Frame, (floor-c[0].Y)*times, (floor-c[1].Y)*times, (c[1].X-c[0].X)*times), "%s: %v", r.Rack, c)
		}
	}
}

// lies reports whether two heights, so far apart along the rack, are those of
// some deck's surface.
func lies(f *structure.Frame, near, far, along float64) bool {
	for _, d := range f.Decks {
		low, high := min(d.PickHeight, d.LoadHeight()).MM(), max(d.PickHeight, d.LoadHeight()).MM()
		if math.Abs((far-near)/along-d.Slope()) < 1e-3 && near > low-1 && far < high+1 {
			return true
		}
	}
	return false
}

// TestNarrowLanesGoToTheTable: parts that can not be read in their container
// stand in a table.
func TestNarrowLanesGoToTheTable(t *testing.T) {
	t.Parallel()
	kit, rack := plant.ShippedKit("mm"), plant.ShippedRackTypes()[0]
	lane := structure.Lane{Level: 1, Width: 60 * millimetre, Capacity: 4, Containers: 4, Box: structure.Box{Container: "S", Flow: 300 * millimetre, Across: 50 * millimetre, Height: 60 * millimetre}}
	r := Rack{Rack: "R1", LengthUnit: "mm"}
	r.Frame, _ = structure.Build(&rack, &kit, []structure.Lane{lane})
	r.Lanes = []Lane{{Lane: lane, Number: 1, Part: "SCREW M6 X 20 A2"}}
	p, _ := recordView(r, FrontView)
	assert.Equal(t, 1, p.words()["Lanes without room for their part"])
	assert.Equal(t, 1, p.words()["SCREW M6 X 20 A2"])
	p, _ = recordView(r, PlanView)
	assert.Equal(t, 1, p.words()["1-1  SCREW M6 X 20 A2"], "along the lane it has room")
}

// TestUprightsThatAreNotSquare: the front shows an upright's width, the cut along
// the lanes its depth, and the free width is what lies between two of them.
func TestUprightsThatAreNotSquare(t *testing.T) {
	t.Parallel()
	kit, rack := plant.ShippedKit("mm"), plant.ShippedRackTypes()[0]
	kit.Parts[0].Width, kit.Parts[0].Height = 40*millimetre, 20*millimetre
	r := Rack{Rack: "R1", LengthUnit: "mm"}
	r.Frame, _ = structure.Build(&rack, &kit, nil)
	for v, want := range map[View]float64{FrontView: 40, SideView: 20} {
		p, _ := recordView(r, v)
		times, wide := scaleOf(t, p), 0
		for _, a := range p.areas[White] {
			if math.Abs((a[1].X-a[0].X)*times-want) < 0.01 && a[2].Y-a[1].Y > 50 {
				wide++
			}
		}
		assert.Equal(t, 2, wide, v)
	}
	p, _ := recordView(r, FrontView)
	assert.Equal(t, 1, p.words()[measure("mm").long(r.Frame.Width-80*millimetre)])
}

// TestLongTablesFlow: more rows than a page holds go on, under their heading, on
// pages that are counted.
func TestLongTablesFlow(t *testing.T) {
	t.Parallel()
	kit, rack := plant.ShippedKit("mm"), plant.ShippedRackTypes()[0]
	r := Rack{Rack: "R1", LengthUnit: "mm"}
	r.Frame, _ = structure.Build(&rack, &kit, nil)
	r.Build.Parts = Table{Heading: []string{"part", "number"}, Right: []bool{false, true}}
	for i := range 450 {
		r.Build.Parts.add(fmt.Sprintf("tube %d", i), "1")
	}
	r.Build.Steps = []string{"Cut the tubes.", "Join the uprights of each end on the floor."}
	sheets := r.sheets()
	require.Len(t, sheets, 4)
	words, heads, columns := map[string]int{}, 0, map[string]bool{}
	for i, sheet := range sheets {
		p := record(nil)
		sheet(p)
		assert.Equal(t, 1, p.words()[fmt.Sprintf("page %d of 4", i+1)])
		heads += p.words()["number"]
		for w, n := range p.words() {
			words[w] += n
		}
		for _, one := range p.texts {
			if strings.HasPrefix(one.Text, "tube ") {
				columns[fmt.Sprint(i, one.At.X)] = true
			}
		}
	}
	for i := range 450 {
		assert.Equal(t, 1, words[fmt.Sprintf("tube %d", i)])
	}
	assert.Greater(t, len(columns), 3)
	assert.Equal(t, len(columns), heads, "one for each column the table runs through")
	for _, w := range []string{"Steps", "1.", "2.", "Cut the tubes.", "Cautions"} {
		assert.Equal(t, 1, words[w], w)
	}
}

// TestPiecesAreAllThere: every member of a frame is in the cut list once, and the
// lengths of the parts table are theirs.
func TestPiecesAreAllThere(t *testing.T) {
	t.Parallel()
	for _, r := range skerrow(t, "mm") {
		marks := map[string]int{}
		for _, row := range r.Build.Cuts.Rows {
			list := marksIn(row[3])
			assert.Equal(t, strconv.Itoa(len(list)), row[2])
			for _, m := range list {
				marks[m]++
			}
		}
		require.Len(t, marks, len(r.Frame.Members), r.Rack)
		own, _ := r.Frame.OwnMass()
		sum := 0.0
		for _, row := range r.Build.Parts.Rows {
			kg, err := strconv.ParseFloat(row[4], 64)
			require.NoError(t, err)
			sum += kg
		}
		assert.InDelta(t, own.KG(), sum, 0.05*float64(len(r.Build.Parts.Rows))+1e-6, r.Rack)
	}
}

// marksIn are the marks of a cell that names runs by their ends.
func marksIn(cell string) (list []string) {
	for _, one := range strings.Split(cell, ", ") {
		from, to, run := strings.Cut(one, " to ")
		list = append(list, from)
		letter := strings.LastIndexFunc(from, unicode.IsLetter) + 1
		for n, _ := strconv.Atoi(from[letter:]); run && list[len(list)-1] != to; {
			n++
			list = append(list, from[:letter]+strconv.Itoa(n))
		}
	}
	return list
}

// TestTheStoreIsThereOnce: the sheet of one rack is cut from the store's bars first
// and says so; those of all racks are cut from new ones.
func TestTheStoreIsThereOnce(t *testing.T) {
	t.Parallel()
	facts := plant.Plant{Name: "P", RackTypes: plant.ShippedRackTypes()[:1], Kits: []plant.Kit{plant.ShippedKit("mm")}}
	tube := facts.Kits[0].Of(plant.TubePart)
	facts.StockOnHand = []plant.StockBar{{Part: tube.Part, Length: tube.StockLengths[0], Count: 2}}
	kind := &facts.RackTypes[0]
	plan := &planner.Plan{Racks: []structure.Rack{{Rack: "A", Type: kind}, {Rack: "B", Type: kind}}}
	one, err := Find(context.Background(), &facts, plan, "B", "1")
	require.NoError(t, err)
	assert.Equal(t, 2, barsInStore(t, one))
	assert.Equal(t, "this rack alone, bars in the store first", one.Build.BarsFrom)
	all, err := All(context.Background(), &facts, plan, "1", 2)
	require.NoError(t, err)
	require.Len(t, all, 2)
	for _, r := range all {
		assert.Zero(t, barsInStore(t, r))
		assert.Equal(t, "this rack alone, from new bars", r.Build.BarsFrom)
	}
}

// barsInStore counts the bars of a cut list that are not bought.
func barsInStore(t *testing.T, r Rack) (bars int) {
	t.Helper()
	for _, row := range r.Build.Bars.Rows {
		if strings.HasPrefix(row[1], unbroken("in store ")) {
			n, err := strconv.Atoi(row[2])
			require.NoError(t, err)
			bars += n
		}
	}
	return bars
}
