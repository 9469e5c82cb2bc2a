package importers

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"lanewright/importers/column"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Codes of findings about what stands on the floor and names something
// unknown.
const (
	CodeLevelRackType    = "levels.unknown-rack-type"
	CodeRackTypesShipped = "rack-types.shipped"
	CodeRackType         = "racks.unknown-rack-type"
	CodeRackCell         = "racks.unknown-cell"
	CodeRackStation      = "racks.unknown-station"
	CodeRackPoint        = "racks.unknown-point"
	CodeAislePoint       = "aisles.unknown-point"
	CodeVehicleMarket    = "vehicles.unknown-market"
	CodeCurrentUnknown   = "current.unknown-code"
	CodeCurrentTwice     = "current.lane-twice"
	CodePinPart          = "pins.unknown-part"
	CodePinRack          = "pins.unknown-rack"
	CodePinStation       = "pins.unknown-station"
)

// joinRackTypes enters the rack types and their levels; a plant that has none
// gets the ones the program ships with.
func (j *joiner) joinRackTypes() {
	at := map[string]int{}
	for _, f := range j.rd.facts.rackTypes {
		t := f.v
		if code, ok := j.enter(j.rackTypes, f.row, "Rack type", "", string(t.RackType)); ok {
			t.RackType, t.Kit = plant.RackTypeCode(code), j.kitNamed(t.Kit)
			at[code] = len(j.plant.RackTypes)
			j.plant.RackTypes = append(j.plant.RackTypes, t)
		}
	}
	if !j.rd.has(column.RackTypes) {
		j.shipRackTypes()
	}
	levels := newCodebook(j.rd, "level", column.Levels)
	for _, f := range j.rd.facts.levels {
		j.joinLevel(f, levels, at)
	}
	for i := range j.plant.RackTypes {
		slices.SortFunc(j.plant.RackTypes[i].Levels, func(a, b plant.Level) int { return a.Level - b.Level })
	}
}

func (j *joiner) shipRackTypes() {
	j.plant.RackTypes = plant.ShippedRackTypes()
	for _, t := range j.plant.RackTypes {
		key := scoped{"", foldCode(string(t.RackType))}
		j.rackTypes.entries[key] = &entry{code: string(t.RackType), raw: string(t.RackType), told: true}
		j.rackTypes.names[""] = append(j.rackTypes.names[""], string(t.RackType))
	}
	j.rd.note(nil, CodeRackTypesShipped, fmt.Sprintf("No rack types are given: the %d generic ones of the program were taken", len(j.plant.RackTypes)),
		"Their measures are common practice and their costs 0.", "Add the sheets Rack types and Levels with the racks that the plant builds or buys.")
}

func (j *joiner) joinLevel(f fact[levelRow], levels *codebook, at map[string]int) {
	if f.row.state == reported {
		return
	}
	code, ok := j.ref(j.rackTypes, f.row, "Rack type", "", string(f.v.rackType), CodeLevelRackType)
	if !ok {
		return
	}
	i, ok := at[code]
	if !ok {
		f.row.fail(CodeLevelRackType, "Rack type", j.rackTypes.unknown("", code, nil))
		return
	}
	if _, ok := j.enter(levels, f.row, "Level", code, strconv.Itoa(f.v.level.Level)); ok {
		j.plant.RackTypes[i].Levels = append(j.plant.RackTypes[i].Levels, f.v.level)
	}
}

func (j *joiner) joinPoints() {
	for _, f := range j.rd.facts.points {
		p := f.v
		if code, ok := j.enter(j.points, f.row, "Point", "", string(p.Point)); ok {
			p.Point = plant.PointCode(code)
			j.plant.AislePoints = append(j.plant.AislePoints, p)
		}
	}
}

func (j *joiner) joinCells() {
	for _, f := range j.rd.facts.cells {
		c := f.v
		if f.row.state != reported {
			c.Shifts = refs(j, j.shifts, f.row, "Shifts", "", c.Shifts, CodeCellShift)
			c.RackTypes = refs(j, j.rackTypes, f.row, "Rack types allowed", "", c.RackTypes, CodeCellRackType)
			point, _ := j.optionalRef(j.points, f.row, "New rack aisle point", "", string(c.NewRackPoint), CodeCellPoint)
			c.NewRackPoint = plant.PointCode(point)
		}
		if code, ok := j.enter(j.cells, f.row, "Cell", "", string(c.Cell)); ok {
			c.Cell = plant.CellCode(code)
			j.plant.Cells = append(j.plant.Cells, c)
		}
	}
}

// refs resolves a list of codes; each that is unknown is reported. A code that
// stands twice counts once.
func refs[T ~string](j *joiner, b *codebook, r *row, field, scope string, raw []T, code string) []T {
	var list []T
	for _, c := range raw {
		if found, ok := j.ref(b, r, field, scope, string(c), code); ok && !slices.Contains(list, T(found)) {
			list = append(list, T(found))
		}
	}
	return list
}

func (j *joiner) joinStations() {
	for _, f := range j.rd.facts.stations {
		s := f.v
		if trim(string(s.Cell)) == "" {
			continue
		}
		cell, ok := "", true
		if f.row.state != reported {
			cell, ok = j.ref(j.cells, f.row, "Cell", "", string(s.Cell), CodeStationCell)
		}
		if !ok || cell == "" {
			cell = trim(string(s.Cell))
			if e := j.cells.entries[scoped{"", foldCode(cell)}]; e != nil {
				cell = e.code
			}
		}
		if code, ok := j.enter(j.stations, f.row, "Station", cell, string(s.Station)); ok {
			s.Cell, s.Station = plant.CellCode(cell), plant.StationCode(code)
			j.plant.Stations = append(j.plant.Stations, s)
		}
	}
}

func (j *joiner) joinRacks() {
	for _, f := range j.rd.facts.racks {
		r := f.v
		if f.row.state != reported {
			rackType, _ := j.ref(j.rackTypes, f.row, "Rack type", "", string(r.RackType), CodeRackType)
			cell, ok := j.ref(j.cells, f.row, "Cell", "", string(r.Cell), CodeRackCell)
			point, _ := j.ref(j.points, f.row, "Aisle point", "", string(r.AislePoint), CodeRackPoint)
			r.RackType, r.Cell, r.AislePoint = plant.RackTypeCode(rackType), plant.CellCode(cell), plant.PointCode(point)
			if ok {
				r.Stations = refs(j, j.stations, f.row, "Stations", cell, r.Stations, CodeRackStation)
			}
		}
		if code, ok := j.enter(j.racks, f.row, "Rack", "", string(r.Rack)); ok {
			r.Rack = plant.RackCode(code)
			j.rackCell[r.Rack] = r.Cell
			j.plant.Racks = append(j.plant.Racks, r)
		}
	}
}

func (j *joiner) joinAisles() {
	for _, f := range j.rd.facts.aisles {
		a := f.v
		if f.row.state == reported {
			continue
		}
		from, okFrom := j.ref(j.points, f.row, "From", "", string(a.From), CodeAislePoint)
		to, okTo := j.ref(j.points, f.row, "To", "", string(a.To), CodeAislePoint)
		if okFrom && okTo && !j.repeats(f.row) {
			a.From, a.To = plant.PointCode(from), plant.PointCode(to)
			f.row.state = used
			j.plant.Aisles = append(j.plant.Aisles, a)
		}
	}
}

func (j *joiner) joinVehicles() {
	for _, f := range j.rd.facts.vehicles {
		v := f.v
		if f.row.state != reported {
			from, _ := j.optionalRef(j.points, f.row, "From market", "", string(v.From), CodeVehicleMarket)
			parking, _ := j.optionalRef(j.points, f.row, "Parking", "", string(v.Parking), CodeVehicleParking)
			v.From, v.Parking = plant.PointCode(from), plant.PointCode(parking)
		}
		if code, ok := j.enter(j.vehicles, f.row, "Vehicle type", "", string(v.Vehicle)); ok {
			v.Vehicle = plant.VehicleCode(code)
			j.plant.Vehicles = append(j.plant.Vehicles, v)
		}
	}
}

// joinCurrent resolves today's layout. Rows about something unknown are
// reported and left out; only moves are counted from it.
func (j *joiner) joinCurrent() {
	type place struct {
		rack        string
		level, lane int
	}
	lanes := map[place]*row{}
	for _, f := range j.rd.facts.current {
		l := f.v
		if f.row.state == reported {
			continue
		}
		rack, ok := j.weakRef(j.racks, f.row, "Rack", "", string(l.Rack), CodeCurrentUnknown)
		if !ok {
			continue
		}
		part, ok := j.weakRef(j.parts, f.row, "Part", "", string(l.Part), CodeCurrentUnknown)
		if !ok || j.repeats(f.row) {
			continue
		}
		l.Rack, l.Part = plant.RackCode(rack), plant.PartCode(part)
		if trim(string(l.Station)) != "" {
			station, ok := j.weakRef(j.stations, f.row, "Station", string(j.rackCell[l.Rack]), string(l.Station), CodeCurrentUnknown)
			if !ok {
				continue
			}
			l.Station = plant.StationCode(station)
		}
		at := place{rack, l.Level, l.Lane}
		if first := lanes[at]; first != nil {
			f.row.state = reported
			f.row.warn(CodeCurrentTwice, "Lane", finding.Finding{
				Summary: fmt.Sprintf("Lane %d on level %d of rack %s stands twice", l.Lane, l.Level, rack),
				Detail:  "A lane holds one part. The row was left out; moves are counted against the first one.",
				Remedy:  "Correct one of the rows.", Related: []finding.Origin{first.origin()},
			})
			continue
		}
		lanes[at] = f.row
		f.row.state = used
		j.plant.Current = append(j.plant.Current, l)
	}
}

func (j *joiner) joinPins() {
	for _, f := range j.rd.facts.pins {
		p := f.v
		if f.row.state == reported {
			continue
		}
		part, okPart := j.ref(j.parts, f.row, "Part", "", string(p.Part), CodePinPart)
		rack, okRack := j.ref(j.racks, f.row, "Rack", "", string(p.Rack), CodePinRack)
		if !okPart || !okRack {
			continue
		}
		p.Part, p.Rack = plant.PartCode(part), plant.RackCode(rack)
		station, ok := j.optionalRef(j.stations, f.row, "Station", string(j.rackCell[p.Rack]), string(p.Station), CodePinStation)
		if !ok || j.repeats(f.row) {
			continue
		}
		p.Station = plant.StationCode(station)
		f.row.state = used
		j.plant.Pins = append(j.plant.Pins, p)
	}
}

// sortBreaks puts the breaks of a shift in order, whatever the order of rows.
func sortBreaks(s *plant.Shift) {
	slices.SortFunc(s.Breaks, func(a, b plant.Break) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.Length, b.Length))
	})
}
