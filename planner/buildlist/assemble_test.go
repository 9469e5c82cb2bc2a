package buildlist_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"lanewright/planner/buildlist"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

const mm = units.Millimetre

// vec is a place in mm: from the left, from the pick side, over the floor.
type vec struct{ x, y, z float64 }

func place(p structure.Point) vec { return vec{p.X.MM(), p.Y.MM(), p.Z.MM()} }

func (a vec) minus(b vec) vec            { return vec{a.x - b.x, a.y - b.y, a.z - b.z} }
func (a vec) plus(b vec) vec             { return vec{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vec) times(f float64) vec        { return vec{a.x * f, a.y * f, a.z * f} }
func (a vec) long() float64              { return math.Sqrt(a.x*a.x + a.y*a.y + a.z*a.z) }
func (a vec) towards(b vec) vec          { d := b.minus(a); return d.times(1 / d.long()) }
func (a vec) away(b vec) float64         { return a.minus(b).long() }
func (a vec) along(d vec, l float64) vec { return a.plus(d.times(l)) }

// put is a tube that stands: its first end and the way it runs.
type put struct {
	piece buildlist.Piece
	at    vec
	way   vec
}

func (p put) end() vec { return p.at.along(p.way, p.piece.Length.MM()) }

// fitter puts a rack together from its build list alone, as a person does: the
// uprights stand where the list says; every other tube goes where the holes are
// that name it.
type fitter struct {
	t     require.TestingT
	l     buildlist.List
	stood map[string]put
}

func assemble(t require.TestingT, l buildlist.List) *fitter {
	f := &fitter{t: t, l: l, stood: map[string]put{}}
	pieces := map[string]buildlist.Piece{}
	for _, p := range l.Pieces {
		_, twice := pieces[p.Mark]
		require.False(t, twice, "mark %s is there once", p.Mark)
		pieces[p.Mark] = p
	}
	placed := map[string]bool{}
	for _, s := range l.Steps {
		for _, mark := range s.Marks {
			require.False(t, placed[mark], "%s is put in place once", mark)
			require.Contains(t, pieces, mark)
			placed[mark] = true
			if pieces[mark].Part.Kind == plant.TubePart {
				f.stand(pieces[mark])
			}
		}
	}
	require.Len(t, placed, len(l.Pieces), "the steps use every piece")
	return f
}

// stand puts one tube in place, after those that carry it.
func (f *fitter) stand(p buildlist.Piece) {
	if p.Role == structure.Upright {
		at := place(p.From)
		f.stood[p.Mark] = put{p, at, vec{0, 0, 1}}
		return
	}
	var holes []vec
	var carriers []put
	for _, o := range f.l.Pieces {
		for _, h := range o.Holes {
			if !slices.Contains(h.Meets, p.Mark) {
				continue
			}
			on, ok := f.stood[o.Mark]
			require.True(f.t, ok, "%s stands before %s", o.Mark, p.Mark)
			require.True(f.t, h.At >= 0 && h.At <= o.Length, "hole at %s in %s", h.At, o.Mark)
			holes, carriers = append(holes, on.at.along(on.way, h.At.MM())), append(carriers, on)
		}
	}
	require.Len(f.t, holes, 2, "%s is held at both ends", p.Mark)
	if holes[1].x+holes[1].y < holes[0].x+holes[0].y {
		holes[0], holes[1] = holes[1], holes[0]
		carriers[0], carriers[1] = carriers[1], carriers[0]
	}
	way := holes[0].towards(holes[1])
	first, last := f.side(p, carriers[0], way), f.side(p, carriers[1], way)
	gap := holes[0].away(holes[1]) - first - last - p.Length.MM()
	require.GreaterOrEqual(f.t, gap, -0.12, "%s is too long", p.Mark)
	require.LessOrEqual(f.t, gap, f.l.Frame.Kit.CutStep.MM()+0.12, "%s is too short", p.Mark)
	f.stood[p.Mark] = put{p, holes[0].along(way, first), way}
}

// side is how far along p its square cut lies from the middle of the tube that
// carries it, just clear of that tube's side.
func (f *fitter) side(p buildlist.Piece, on put, way vec) float64 {
	flat := math.Hypot(way.x, way.y)
	if on.piece.Role != structure.Upright {
		flat = 1
	}
	return on.piece.Part.Width.MM()/2/flat + p.Part.Height.MM()/2*math.Abs(way.z)/flat
}

// checkGeometry: everything stands where the frame has it.
func (f *fitter) checkGeometry() {
	frame := f.l.Frame
	seen := map[int]units.Length{}
	for _, p := range f.l.Pieces {
		seen[p.Member] += p.Length
		if p.Part.Kind != plant.TubePart {
			continue
		}
		m, stands := frame.Members[p.Member], f.stood[p.Mark]
		require.Less(f.t, stands.at.away(place(m.From)), 0.15, "first end of %s", p.Mark)
		require.Less(f.t, stands.end().away(place(m.To)), frame.Kit.CutStep.MM()+0.15, "other end of %s", p.Mark)
	}
	step := max(frame.Kit.CutStep, mm/10)
	for i, m := range frame.Members {
		require.LessOrEqual(f.t, seen[i], m.Length()+1, "%s", m.Mark)
		require.Greater(f.t, seen[i], m.Length()-step, "%s is listed in its whole length", m.Mark)
	}
	require.Len(f.t, seen, len(frame.Members), "every member is listed")
}

// checkJoints: every joint has its hole, its connectors and fasteners.
func (f *fitter) checkJoints() {
	meets := 0
	for _, p := range f.l.Pieces {
		for _, h := range p.Holes {
			meets += len(h.Meets)
			for _, mark := range h.Meets {
				across := math.Abs(f.stood[mark].way.x) > 0.5
				require.Equal(f.t, across, h.Way == buildlist.AcrossRack, "%s in %s", mark, p.Mark)
			}
			if k := f.l.Frame.Kit; k.HolePitch > 0 {
				require.Equal(f.t, k.FirstHole+units.Length(h.Number-1)*k.HolePitch, h.At)
			}
		}
	}
	require.Equal(f.t, len(f.l.Frame.Joints), meets)
	for _, b := range f.l.Buys {
		if b.Part.PerJoint > 0 {
			require.Equal(f.t, meets*b.Part.PerJoint, b.Count, "%s", b.Part.Part)
		}
	}
}

// plane is a lane surface: its height at y = 0 and how it rises.
type plane struct{ zero, rise float64 }

// surface is that of a level as it stands: on the tracks on its cross tubes.
func (f *fitter) surface(level int) plane {
	var tubes []put
	track := 0.0
	for _, p := range f.l.Pieces {
		if p.Level == level && p.Role == structure.CrossTube {
			tubes = append(tubes, f.stood[p.Mark])
		}
		if p.Level == level && p.Role == structure.Track {
			track = p.Part.Height.MM()
		}
	}
	slices.SortFunc(tubes, func(a, b put) int { return int(math.Copysign(1, a.at.y-b.at.y)) })
	first, last := tubes[0], tubes[len(tubes)-1]
	rise := (last.at.z - first.at.z) / (last.at.y - first.at.y)
	for _, c := range tubes {
		require.InDelta(f.t, first.at.z+rise*(c.at.y-first.at.y), c.at.z, 0.25, "cross tubes of level %d lie in one plane", level)
	}
	over := (track + first.piece.Part.Height.MM()/2) * math.Hypot(1, rise)
	return plane{first.at.z - rise*first.at.y + over, rise}
}

// clear is what passes over a level under every tube that crosses the rack, by the
// corners of their sections.
func (f *fitter) clear(level int) float64 {
	s := f.surface(level)
	least := math.Inf(1)
	for _, p := range f.l.Pieces {
		if p.Part.Kind != plant.TubePart || p.Level == level || math.Abs(f.stood[p.Mark].way.x) < 0.5 {
			continue
		}
		at, turn := f.stood[p.Mark].at, 0.0
		if p.Level > 0 {
			turn = math.Atan(f.surface(p.Level).rise)
		}
		if at.z <= s.zero+s.rise*at.y {
			continue
		}
		for _, w := range []float64{-1, 1} {
			for _, h := range []float64{-1, 1} {
				dy, dz := w*p.Part.Width.MM()/2, h*p.Part.Height.MM()/2
				y, z := at.y+dy*math.Cos(turn)-dz*math.Sin(turn), at.z+dy*math.Sin(turn)+dz*math.Cos(turn)
				least = min(least, (z-s.zero-s.rise*y)/math.Hypot(1, s.rise))
			}
		}
	}
	return least
}

// checkPassage: on every level as it stands there is as much room as the frame
// says, and the containers planned on it pass where the screening says so.
func (f *fitter) checkPassage() {
	_, found := structure.Screen(f.l.Frame, structure.DefaultLimits())
	stuck := map[int]bool{}
	for _, one := range found {
		if one.Code == structure.CodeNoPassage {
			stuck[one.Subject.Level] = true
		}
	}
	for _, d := range f.l.Frame.Decks {
		clear := f.clear(d.Level)
		if d.Clear == 0 {
			require.True(f.t, math.IsInf(clear, 1), "nothing stands over level %d", d.Level)
			continue
		}
		require.InDelta(f.t, d.Clear.MM(), clear, 0.4, "free height over level %d", d.Level)
		tallest := 0.0
		for _, l := range d.Lanes {
			tallest = max(tallest, l.Box.Height.MM())
		}
		if stuck[d.Level] && tallest > 0 {
			require.Greater(f.t, tallest, clear-0.4, "level %d", d.Level)
		} else if !stuck[d.Level] {
			require.LessOrEqual(f.t, tallest, clear+0.4, "level %d", d.Level)
		}
	}
}

// check assembles a list and compares it with its frame.
func check(t require.TestingT, l buildlist.List) {
	f := assemble(t, l)
	f.checkGeometry()
	f.checkJoints()
	f.checkPassage()
	checkSums(t, l)
}

// checkSums: groups, counts, lengths and masses add up.
func checkSums(t require.TestingT, l buildlist.List) {
	grouped, count, length := 0, map[plant.KitPartCode]int{}, map[plant.KitPartCode]units.Length{}
	for _, g := range l.Groups {
		grouped += len(g.Pieces)
		for _, i := range g.Pieces {
			require.Equal(t, g.Length, l.Pieces[i].Length)
			require.Equal(t, g.Part, l.Pieces[i].Part)
			require.Len(t, l.Pieces[i].Holes, len(g.Holes))
		}
	}
	require.Equal(t, len(l.Pieces), grouped)
	for _, p := range l.Pieces {
		count[p.Part.Part]++
		length[p.Part.Part] += p.Length
	}
	for _, b := range l.Buys {
		if n := count[b.Part.Part]; n > 0 {
			require.Equal(t, n, b.Count)
			require.Equal(t, length[b.Part.Part], b.Length)
		}
	}
	own, whole := l.Frame.OwnMass()
	sum := buildlist.Sum(l.Buys)
	require.Equal(t, whole, len(sum.Unweighed) == 0)
	require.InDelta(t, own.KG(), sum.Mass.KG(), 0.1+0.002*own.KG())
}

// made is the build list of a rack.
func made(t *testing.T, rack string, f *structure.Frame) buildlist.List {
	t.Helper()
	l, _ := buildlist.Make(plant.RackCode(rack), f, buildlist.MM)
	return l
}
