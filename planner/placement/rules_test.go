package placement

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"lanewright/planner/demand"
	"lanewright/planner/ergonomics"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/sizing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// broken lists the hard rules of the planning rules, section 5, that a layout
// breaks. It reads the facts and the result only and shares no code with the
// search.
func broken(in Input, l Layout) []string {
	b := &breach{in: in, l: l, racks: map[plant.RackCode]structure.Rack{}, loops: map[demand.Key]sizing.Loop{}}
	for _, r := range l.Racks {
		if _, twice := b.racks[r.Rack]; twice {
			b.say("rack %s stands twice", r.Rack)
		}
		b.racks[r.Rack] = r
	}
	for _, s := range in.Loops {
		b.loops[s.Key] = s
	}
	b.counts()
	b.lanes()
	b.levels()
	b.masses()
	b.pins()
	b.frontage()
	b.bounds()
	return b.list
}

type breach struct {
	in    Input
	l     Layout
	racks map[plant.RackCode]structure.Rack
	loops map[demand.Key]sizing.Loop
	list  []string
}

func (b *breach) say(format string, args ...any) {
	b.list = append(b.list, fmt.Sprintf(format, args...))
}

func (b *breach) level(l Lane) plant.Level {
	for _, v := range b.racks[l.Rack].Levels {
		if v.Level.Level == l.Level {
			return v.Level
		}
	}
	b.say("lane on unknown level %d of %s", l.Level, l.Rack)
	return plant.Level{}
}

// counts: every container is in one lane or unplaced with a reason that stands
// in the findings.
func (b *breach) counts() {
	have := map[demand.Key]int{}
	for _, l := range b.l.Lanes {
		have[l.Loop] += l.Containers
	}
	for _, u := range b.l.Unplaced {
		have[u.Loop] += u.Containers
		if u.Containers <= 0 {
			b.say("%v unplaced with %d containers", u.Loop, u.Containers)
		}
		found := false
		for _, f := range b.l.Findings {
			found = found || (f.Code == u.Reason && f.Detail == u.Detail && f.Subject.Part == string(u.Loop.Part) && f.Subject.Station == string(u.Loop.Station))
		}
		if !found || u.Detail == "" {
			b.say("%v unplaced for %q without a finding", u.Loop, u.Reason)
		}
	}
	for k, s := range b.loops {
		if have[k] != s.Containers {
			b.say("%v has %d containers in lanes or unplaced, not %d", k, have[k], s.Containers)
		}
	}
}

// lanes: each lane suits its loop.
func (b *breach) lanes() {
	set := b.in.Plant
	for _, l := range b.l.Lanes {
		v := b.level(l)
		if l.Kind != v.Kind {
			b.say("%v is a %s lane on a %s level", l, l.Kind, v.Kind)
		}
		if l.Empty() {
			if l.Containers != 0 || l.Capacity != 0 {
				b.say("%v is empty and holds something", l)
			}
			continue
		}
		s, r := b.loops[l.Loop], b.racks[l.Rack]
		c := b.in.Index.Containers[s.Container]
		along, across := c.Length, c.Width
		if l.Side == plant.WidthAlong {
			along, across = c.Width, c.Length
		}
		switch {
		case v.Kind != plant.Supply:
			b.say("%v on a return level", l)
		case c.FlowSide != plant.EitherAlong && c.FlowSide != l.Side:
			b.say("%v flow side not allowed", l)
		case along > v.LaneLength || c.Height+set.HandClearance > v.ClearHeight:
			b.say("%v too long or too tall", l)
		case l.Capacity != int(v.LaneLength/along) || l.Containers < 1 || l.Containers > l.Capacity:
			b.say("%v capacity", l)
		case l.Width < across+2*set.SideClearance:
			b.say("%v too narrow", l)
		case r.Cell != l.Loop.Cell || !slices.Contains(r.Stations, l.Loop.Station):
			b.say("%v rack does not serve", l)
		}
		st := b.in.Index.Stations[plant.StationKey{Cell: l.Loop.Cell, Station: l.Loop.Station}]
		if st.Place != nil && r.Known {
			sq := func(n units.Length) *big.Int { v := big.NewInt(int64(n)); return v.Mul(v, v) }
			d := new(big.Int).Add(sq(st.Place.X-r.Place.X), sq(st.Place.Y-r.Place.Y))
			if d.Cmp(sq(st.WalkLimit)) > 0 {
				b.say("%v beyond the walk limit", l)
			}
		}
	}
}

// levels: numbers, offsets, widths, neighbours, fixed lanes.
func (b *breach) levels() {
	limited := map[plant.RackCode]bool{}
	for _, r := range b.l.Racks {
		limited[r.Rack] = r.Proposed || len(b.in.Index.Plant.Current) > 0
		for _, c := range b.in.Index.Plant.Current {
			if c.Rack == r.Rack {
				limited[r.Rack] = false
			}
		}
	}
	for _, r := range b.l.Racks {
		for _, v := range r.Levels {
			var here []Lane
			for _, l := range b.l.Lanes {
				if l.Rack == r.Rack && l.Level == v.Level.Level {
					here = append(here, l)
				}
			}
			limit := v.UsableWidth
			if limited[r.Rack] && v.Kind == plant.Supply {
				limit = units.Length(v.UsableWidth.Ratio().Mul(b.in.Plant.FillLimit).Floor())
			}
			b.side(r, v, here, limit)
		}
	}
}

func (b *breach) side(r structure.Rack, v structure.Level, here []Lane, limit units.Length) {
	if len(v.Fixed) > 0 && len(here) != len(v.Fixed) {
		b.say("%s level %d has %d fixed lanes, lists %d", r.Rack, v.Level.Level, len(v.Fixed), len(here))
		return
	}
	at := units.Length(0)
	last := map[demand.Key]int{}
	for i, l := range here {
		if l.Lane != i+1 || l.Offset != at {
			b.say("%v is not lane %d at %s", l, i+1, at)
		}
		if len(v.Fixed) > 0 && l.Width != v.Fixed[i] {
			b.say("%v is not as wide as the fixed lane", l)
		}
		right := l.Offset + l.Width
		if (len(v.Fixed) == 0 || !l.Empty()) && right > limit {
			b.say("%v ends at %s beyond %s", l, right, limit)
		}
		at = right + b.in.Plant.GuideWidth
		if l.Empty() {
			continue
		}
		if before, seen := last[l.Loop]; seen && before != i-1 {
			b.say("%v: lanes are not side by side", l)
		}
		last[l.Loop] = i
		if i > 0 && !here[i-1].Empty() && b.apart(l.Loop.Part, here[i-1].Loop.Part) {
			b.say("%v lies beside %v", l, here[i-1].Loop)
		}
	}
}

func (b *breach) apart(x, y plant.PartCode) bool {
	p, q := b.in.Index.Parts[x], b.in.Index.Parts[y]
	return x != y && (p.LookAlike == y || q.LookAlike == x || (p.KeepApart != "" && p.KeepApart == q.KeepApart))
}

func (b *breach) masses() {
	type level struct {
		rack  plant.RackCode
		level int
	}
	on := map[level]units.Mass{}
	total := map[plant.RackCode]units.Mass{}
	for _, l := range b.l.Lanes {
		if !l.Empty() {
			m := units.Mass(l.Containers) * b.loops[l.Loop].Gross
			on[level{l.Rack, l.Level}] += m
			total[l.Rack] += m
		}
	}
	for _, r := range b.l.Racks {
		if m := total[r.Rack]; m > 0 && r.Type.MassLimit > 0 && m+r.Type.OwnMass > r.Type.MassLimit {
			b.say("%s carries %s", r.Rack, m)
		}
		for _, v := range r.Levels {
			if m := on[level{r.Rack, v.Level.Level}]; v.MassLimit > 0 && m > v.MassLimit {
				b.say("%s level %d carries %s", r.Rack, v.Level.Level, m)
			}
		}
	}
}

func (b *breach) pins() {
	out := map[finding.Origin]bool{}
	for _, f := range plant.Check(b.in.Index.Plant) {
		if f.Severity == finding.Error && f.Code != plant.CodePinNotServed && f.Code != plant.CodePinNoLoop {
			out[f.Origin] = true
		}
	}
	for _, p := range b.in.Index.Plant.Pins {
		if out[p.Origin] && !p.Origin.IsZero() {
			for _, u := range b.l.Unplaced {
				if u.Loop.Part == p.Part && u.Reason == CodePin {
					b.say("%v is kept out by a pin that was left out", u)
				}
			}
			continue
		}
		numbers := map[demand.Key]bool{}
		lies := map[demand.Key]bool{}
		for _, l := range b.l.Lanes {
			if l.Empty() || l.Loop.Part != p.Part || (p.Station != "" && p.Station != l.Loop.Station) {
				continue
			}
			if l.Rack != p.Rack || (p.Level > 0 && p.Level != l.Level) {
				b.say("%v is pinned to %s level %d", l, p.Rack, p.Level)
			}
			lies[l.Loop] = true
			numbers[l.Loop] = numbers[l.Loop] || l.Lane == p.Lane
		}
		for k := range lies {
			if p.Lane > 0 && !numbers[k] {
				b.say("%v is pinned to lane %d", k, p.Lane)
			}
		}
	}
}

func (b *breach) frontage() {
	c := b.in.Index.Cells["C"]
	sum, added := units.Length(0), 0
	used := map[plant.RackCode]bool{}
	for _, l := range b.l.Lanes {
		used[l.Rack] = used[l.Rack] || !l.Empty()
	}
	for _, r := range b.l.Racks {
		sum += r.Type.Width
		if r.Proposed {
			added++
			if len(c.RackTypes) > 0 && !slices.Contains(c.RackTypes, r.Type.RackType) {
				b.say("%s is of a type not allowed", r.Rack)
			}
			if !used[r.Rack] {
				b.say("%s was added for nothing", r.Rack)
			}
		}
	}
	if c.Frontage > 0 && added > 0 && sum > c.Frontage {
		b.say("racks take %s of %s", sum, c.Frontage)
	}
}

// bounds: what the bound says about the layout is true.
func (b *breach) bounds() {
	for _, k := range b.l.Bounds {
		got := b.goals()
		if k.Unplaced != got.unplaced || math.Abs(k.AddedCost-got.cost) > 1e-6 || math.Abs(k.Effort-got.effort) > 1e-6*(1+got.effort) {
			b.say("bound says %+v, the layout has %+v", k, got)
		}
		if k.UnplacedBound > k.Unplaced || k.AddedCostBound > k.AddedCost || k.EffortBound > k.Effort*(1+1e-9)+1e-9 {
			b.say("bound beaten by its own layout: %+v", k)
		}
	}
}

type goals struct {
	unplaced     int
	cost, effort float64
}

// goals recomputes the goals of a layout from the facts.
func (b *breach) goals() goals {
	var g goals
	for _, r := range b.l.Racks {
		if r.Proposed {
			g.cost += priceOf(b.in.Index.Plant, r.Type)
		}
	}
	for _, u := range b.l.Unplaced {
		g.unplaced += u.Containers
	}
	for _, l := range b.l.Lanes {
		if !l.Empty() {
			s := b.loops[l.Loop]
			g.effort += effortOf(b.in, s, b.racks[l.Rack], b.level(l)) * float64(l.Containers) / float64(s.Containers)
		}
	}
	return g
}

// effortOf is the effort of a whole loop on a level (planning rules, section 5).
func effortOf(in Input, s sizing.Loop, r structure.Rack, v plant.Level) float64 {
	c := in.Index.Containers[s.Container]
	pieces := s.Rate.Float64() * 60
	half := float64(c.Height) / 2
	pick := 1/ergonomics.VM(units.Length(float64(v.PickHeight)+half)) - 1
	load := 1/ergonomics.VM(units.Length(float64(v.PickHeight+v.Drop)+half)) - 1
	walk := 0.0
	if st := in.Index.Stations[plant.StationKey{Cell: s.Cell, Station: s.Station}]; st.Place != nil && r.Known {
		walk = math.Hypot(st.Place.X.Metres()-r.Place.X.Metres(), st.Place.Y.Metres()-r.Place.Y.Metres())
	}
	return pieces*in.Index.Parts[s.Part].PieceMass.KG()*pick + pieces/float64(s.Pack)*s.Gross.KG()*load + pieces*2*walk*0.05
}

// priceOf is what an added rack counts: its cost, else as dear per millimetre
// of width as the dearest type with a cost, else its width in millimetres.
func priceOf(p *plant.Plant, t *plant.RackType) float64 {
	if t.Cost > 0 {
		return t.Cost.Float64()
	}
	dearest := big.NewRat(0, 1)
	for _, o := range p.RackTypes {
		if r := big.NewRat(int64(o.Cost), int64(o.Width)); r.Cmp(dearest) > 0 {
			dearest = r
		}
	}
	if dearest.Sign() == 0 {
		return t.Width.MM()
	}
	cost := dearest.Mul(dearest, big.NewRat(int64(t.Width), int64(units.Unit)))
	whole := new(big.Int).Div(cost.Num(), cost.Denom())
	if !cost.IsInt() {
		whole.Add(whole, big.NewInt(1))
	}
	return float64(whole.Int64())
}
