package wire

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"time"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
	"lanewright/planner/plant"
	"lanewright/planner/routing"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// ErrNotAPlan says that what was read is no plan document.
var ErrNotAPlan = errors.New("not a plan document")

// ReadPlan reads of a plan document what a comparison needs: what the loops have and
// where they lie, racks, routes and what the cells come to. The rest is left empty.
func ReadPlan(r io.Reader) (*planner.Plan, error) {
	d := json.NewDecoder(r)
	d.UseNumber()
	var doc Plan
	if err := d.Decode(&doc); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNotAPlan, err)
	}
	if doc.Format != Format {
		return nil, fmt.Errorf("%w: its format is %q, expected %q, as plan --out writes it", ErrNotAPlan, doc.Format, Format)
	}
	p := &planner.Plan{Plant: doc.Plant, Revision: doc.Revision, Version: doc.Version}
	for key, value := range doc.Settings {
		// A setting that this version does not know says nothing about what is compared.
		if err := p.Settings.Set(key, fmt.Sprint(value)); errors.Is(err, planner.ErrBadSetting) {
			return nil, fmt.Errorf("%w: settings: %w", ErrNotAPlan, err)
		}
	}
	p.Settings.Plant.Seed = doc.Seed
	for _, l := range doc.Loops {
		loop := planner.Loop{Capacity: l.LaneCapacity, Lanes: l.Lanes, Side: plant.FlowSide(l.FlowSide), Route: l.Route}
		loop.Key = readKey(l.Part, l.Cell, l.Station)
		loop.Container, loop.Pack, loop.Containers = plant.ContainerCode(l.Container), max(1, l.Pack), l.Containers
		loop.Interval = readMinutes(l.IntervalMin)
		loop.Rate = units.Int(0)
		p.Loops = append(p.Loops, loop)
	}
	for _, r := range doc.Racks {
		p.Racks = append(p.Racks, structure.Rack{
			Rack: plant.RackCode(r.Rack), Cell: plant.CellCode(r.Cell), Proposed: r.Proposed,
			Type: &plant.RackType{RackType: plant.RackTypeCode(r.RackType), Width: readMM(r.WidthMM)},
		})
	}
	for _, l := range doc.Lanes {
		p.Lanes = append(p.Lanes, placement.Lane{
			Rack: plant.RackCode(l.Rack), Level: l.Level, Lane: l.Lane, Kind: plant.LevelKind(l.Kind), Offset: readMM(l.OffsetMM), Width: readMM(l.WidthMM),
			Loop: readKey(l.Part, l.Cell, l.Station), Side: plant.FlowSide(l.FlowSide), Capacity: l.Capacity, Containers: l.Containers,
		})
	}
	for _, u := range doc.Unplaced {
		p.Unplaced = append(p.Unplaced, placement.Unplaced{Loop: readKey(u.Part, u.Cell, u.Station), Containers: u.Containers, Reason: u.Reason, Detail: u.Detail})
	}
	for _, r := range doc.Routes {
		route := routing.Route{
			Route: r.Route, Vehicle: plant.VehicleCode(r.VehicleType), Handler: r.Handler, Market: plant.PointCode(r.Market),
			Interval: readMinutes(r.IntervalMin), Round: readMinutes(r.RoundMin), Travel: readMM(1000 * r.TravelM),
			LoadMean: r.LoadMean, LoadPlanned: r.LoadPlanned,
		}
		for _, s := range r.Stops {
			route.Stops = append(route.Stops, routing.Stop{Rack: plant.RackCode(s.Rack), Point: plant.PointCode(s.AislePoint)})
		}
		p.Routes = append(p.Routes, route)
	}
	for _, u := range doc.Unserved {
		one := routing.Unserved{Rack: plant.RackCode(u.Rack), Reason: u.Reason, Detail: u.Detail}
		for _, k := range u.Loops {
			one.Loops = append(one.Loops, readKey(k.Part, k.Cell, k.Station))
		}
		p.Unserved = append(p.Unserved, one)
	}
	p.RouteBounds.Handlers = doc.Bounds.Routes.Handlers
	for _, b := range doc.Bounds.Cells {
		p.Cells = append(p.Cells, placement.Bound{Cell: plant.CellCode(b.Cell), Unplaced: b.Unplaced, AddedCost: b.AddedCost, Effort: b.Effort})
	}
	for _, m := range doc.Moves {
		p.Moves = append(p.Moves, placement.Move{Part: plant.PartCode(m.Part), Cell: plant.CellCode(m.Cell), Station: plant.StationCode(m.Station), Containers: m.Containers})
	}
	return p, nil
}

func readKey(part, cell, station string) demand.Key {
	return demand.Key{Part: plant.PartCode(part), Cell: plant.CellCode(cell), Station: plant.StationCode(station)}
}

func readMM(mm float64) units.Length {
	return units.Length(math.Round(mm * float64(units.Millimetre)))
}

func readMinutes(m float64) time.Duration {
	return time.Duration(math.Round(m * float64(time.Minute)))
}
