package drawing

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"golang.org/x/sync/errgroup"

	"lanewright/planner"
	"lanewright/planner/buildlist"
	"lanewright/planner/finding"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Rack is what is drawn of a rack.
type Rack struct {
	Rack, Cell string
	// Plan says which plan the rack is of; it stands in the title block.
	Plan     string
	Proposed bool
	Frame    *structure.Frame
	// Lanes are those planned on it, by level and lane.
	Lanes []Lane
	// LengthUnit and MassUnit are the plant's: mm, cm, m, in, ft; kg, g, lb.
	LengthUnit, MassUnit string
	// Screening is what was computed about it, Findings what was found, a paragraph
	// each.
	Screening, Findings []string
	Build               Build
}

// Lane is one lane of a rack with what the plan puts into it.
type Lane struct {
	structure.Lane
	// Number counts from 1, from the left seen from the pick side.
	Number int
	Kind   plant.LevelKind
	// Part and Station are empty in a lane without a part.
	Part, Station string
}

// Address names the lane in its rack: its level and its number.
func (l Lane) Address() string { return fmt.Sprintf("%d-%d", l.Level, l.Number) }

// Errors of Find.
var (
	ErrNoRack   = errors.New("the plan has no such rack")
	ErrNotBuilt = errors.New("its kit lacks a part that every rack needs")
)

// Find gathers what is drawn of one rack of a plan; name says which plan that is.
// It is cut from the plant's stock on hand first, as if no other rack were built.
func Find(ctx context.Context, facts *plant.Plant, p *planner.Plan, code plant.RackCode, name string) (Rack, error) {
	one := *p
	one.Racks = slices.DeleteFunc(slices.Clone(p.Racks), func(r structure.Rack) bool { return r.Rack != code })
	if len(one.Racks) == 0 {
		return Rack{}, ErrNoRack
	}
	list, err := gathered(ctx, facts, &one, name, 1, buildlist.StockOf(facts))
	if err != nil {
		return Rack{}, err
	}
	if len(list) == 0 {
		return Rack{}, ErrNotBuilt
	}
	return list[0], nil
}

// All gathers what is drawn of the racks of a plan, in their order, without those
// whose kit lacks a part that every rack needs. Each is cut from new bars: what lies
// in the store is there once, and their sheets can not all have it. Threads change
// the time, never the result. Only a context that is done fails.
func All(ctx context.Context, facts *plant.Plant, p *planner.Plan, name string, threads int) ([]Rack, error) {
	return gathered(ctx, facts, p, name, threads, nil)
}

// gathered is what is drawn of the racks of a plan, each cut alone with the store.
func gathered(ctx context.Context, facts *plant.Plant, p *planner.Plan, name string, threads int, store []buildlist.Stock) ([]Rack, error) {
	lanes := map[plant.RackCode][]placement.Lane{}
	for _, l := range p.Lanes {
		lanes[l.Rack] = append(lanes[l.Rack], l)
	}
	frames := planner.Frames(ctx, facts, p, threads)
	if err := context.Cause(ctx); err != nil {
		return nil, fmt.Errorf("build racks: %w", err)
	}
	frames = slices.DeleteFunc(frames, func(f planner.RackFrame) bool { return f.Frame == nil })
	list, speech := make([]Rack, len(frames)), planner.Speech(facts, p)
	work, ctx := errgroup.WithContext(ctx)
	work.SetLimit(max(threads, 1))
	for i, f := range frames {
		work.Go(func() (err error) {
			list[i], err = newRack(ctx, f, lanes[f.Rack.Rack], p.Settings.Plant, speech, name, store)
			return err
		})
	}
	return list, work.Wait()
}

func newRack(ctx context.Context, f planner.RackFrame, lanes []placement.Lane, s plant.Settings, speech units.Speech, name string, store []buildlist.Stock) (Rack, error) {
	d := standing(f, lanes, s, name)
	build, found, err := listed(ctx, d, s.Seed, store)
	if err != nil {
		return Rack{}, err
	}
	d.Build = build
	d.Screening = screened(f.Screening, s.MassUnit, speech)
	for _, one := range append(slices.Clone(f.Findings), found...).In(speech) {
		d.Findings = append(d.Findings, one.Summary+". "+one.Remedy)
	}
	return d, nil
}

// standing is a rack as it stands, without what it is built by.
func standing(f planner.RackFrame, lanes []placement.Lane, s plant.Settings, name string) Rack {
	d := Rack{
		Rack: string(f.Rack.Rack), Cell: string(f.Rack.Cell), Plan: name, Proposed: f.Rack.Proposed,
		Frame: f.Frame, LengthUnit: s.LengthUnit, MassUnit: s.MassUnit,
	}
	for _, l := range lanes {
		lane := Lane{Number: l.Lane, Kind: l.Kind, Part: string(l.Loop.Part), Station: string(l.Loop.Station)}
		lane.Lane = planned(f.Frame, l.Level, l.Offset)
		d.Lanes = append(d.Lanes, lane)
	}
	return d
}

// listed is the build list of a rack alone, cut from the store first.
func listed(ctx context.Context, d Rack, seed uint64, store []buildlist.Stock) (Build, finding.List, error) {
	list, found := buildlist.Make(plant.RackCode(d.Rack), d.Frame, buildlist.UnitOf(d.LengthUnit))
	cuts, more, err := buildlist.CutLists(ctx, []buildlist.List{list}, buildlist.CutOptions{Seed: seed, OnHand: store})
	if err != nil {
		return Build{}, nil, err
	}
	return built(list, cuts, d.MassUnit), append(found, more...), nil
}

// screened says what was computed: masses, how it stands, what limits it.
func screened(s structure.Screening, massUnit string, speech units.Speech) []string {
	mass := func(kg float64) string {
		return heavy(massUnit, units.Mass(kg*float64(units.Kilogram))) + " " + massName(massUnit)
	}
	list := []string{fmt.Sprintf("It weighs %s itself and carries %s when every lane is full. It is %s times as high as its base is narrow.",
		mass(s.OwnMass), mass(s.Load), decimal(s.Slenderness, 1))}
	if u, ok := s.Governing(); ok {
		value, limit := decimal(u.Value, 2), decimal(u.Limit, 2)
		if u.Unit != "" {
			value, limit = value+" "+u.Unit, limit+" "+u.Unit
		}
		list = append(list, speech.Local(fmt.Sprintf("What limits it: %s (%s), %s %s, at most %s.", u.Mark, u.Role, u.By, value, limit)))
	}
	return list
}

// planned is the frame's lane at that place.
func planned(f *structure.Frame, level int, offset units.Length) structure.Lane {
	if d := f.Deck(level); d != nil {
		for _, l := range d.Lanes {
			if l.Offset == offset {
				return l
			}
		}
	}
	return structure.Lane{Level: level, Offset: offset}
}

// on are the lanes of a level.
func (r *Rack) on(level int) []Lane {
	var list []Lane
	for _, l := range r.Lanes {
		if l.Level == level {
			list = append(list, l)
		}
	}
	return list
}

// measure writes lengths in the plant's unit.
func (r *Rack) measure() measure { return measure(r.LengthUnit) }

// cutLane is the lane of a level that the side view cuts: the one nearest to the
// right end that holds containers; ok is false where none does.
func (r *Rack) cutLane(level int) (lane Lane, ok bool) {
	for _, l := range r.on(level) {
		if !l.Box.IsZero() {
			lane, ok = l, true
		}
	}
	return lane, ok
}
