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
	for f := range j.rd.facts.rackTypes.all() {
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
	for f := range j.rd.facts.levels.all() {
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
	define(j, &j.rd.facts.points, j.points, "Point", func(p *plant.AislePoint) *plant.PointCode { return &p.Point }, nil, into(&j.plant.AislePoints))
}

func (j *joiner) joinCells() {
	define(j, &j.rd.facts.cells, j.cells, "Cell", func(c *plant.Cell) *plant.CellCode { return &c.Cell }, func(c *plant.Cell, r *row) {
		c.Shifts = refs(j, j.shifts, r, "Shifts", "", c.Shifts, CodeCellShift)
		c.RackTypes = refs(j, j.rackTypes, r, "Rack types allowed", "", c.RackTypes, CodeCellRackType)
		maybe(j, j.points, r, "New rack aisle point", "", &c.NewRackPoint, CodeCellPoint)
	}, into(&j.plant.Cells))
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
	for f := range j.rd.facts.stations.all() {
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
	define(j, &j.rd.facts.racks, j.racks, "Rack", func(r *plant.Rack) *plant.RackCode { return &r.Rack }, func(r *plant.Rack, at *row) {
		named(j, j.rackTypes, at, "Rack type", "", &r.RackType, CodeRackType)
		inCell := named(j, j.cells, at, "Cell", "", &r.Cell, CodeRackCell)
		named(j, j.points, at, "Aisle point", "", &r.AislePoint, CodeRackPoint)
		if inCell {
			r.Stations = refs(j, j.stations, at, "Stations", string(r.Cell), r.Stations, CodeRackStation)
		}
	}, func(r plant.Rack) {
		j.rackCell[r.Rack] = r.Cell
		j.plant.Racks = append(j.plant.Racks, r)
	})
}

func (j *joiner) joinAisles() {
	settle(&j.rd.facts.aisles, func(a *plant.Aisle, r *row) bool {
		from := named(j, j.points, r, "From", "", &a.From, CodeAislePoint)
		to := named(j, j.points, r, "To", "", &a.To, CodeAislePoint)
		return from && to && !j.repeats(r)
	}, into(&j.plant.Aisles))
}

func (j *joiner) joinVehicles() {
	define(j, &j.rd.facts.vehicles, j.vehicles, "Vehicle type", func(v *plant.Vehicle) *plant.VehicleCode { return &v.Vehicle }, func(v *plant.Vehicle, r *row) {
		maybe(j, j.points, r, "From market", "", &v.From, CodeVehicleMarket)
		maybe(j, j.points, r, "Parking", "", &v.Parking, CodeVehicleParking)
	}, into(&j.plant.Vehicles))
}

// place is one lane of a rack.
type place struct {
	rack        plant.RackCode
	level, lane int
}

// joinCurrent resolves today's layout. Rows about something unknown are
// reported and left out; only moves are counted from it.
func (j *joiner) joinCurrent() {
	lanes := map[place]*row{}
	settle(&j.rd.facts.current, func(l *plant.CurrentLane, r *row) bool {
		if !weakly(j, j.racks, r, "Rack", "", &l.Rack, CodeCurrentUnknown) || !weakly(j, j.parts, r, "Part", "", &l.Part, CodeCurrentUnknown) || j.repeats(r) {
			return false
		}
		if trim(string(l.Station)) != "" && !weakly(j, j.stations, r, "Station", string(j.rackCell[l.Rack]), &l.Station, CodeCurrentUnknown) {
			return false
		}
		return j.firstOfLane(lanes, place{l.Rack, l.Level, l.Lane}, r)
	}, into(&j.plant.Current))
}

// firstOfLane reports whether r is the first row of a lane; a second one is
// left out.
func (j *joiner) firstOfLane(lanes map[place]*row, at place, r *row) bool {
	first := lanes[at]
	if first == nil {
		lanes[at] = r
		return true
	}
	r.state = reported
	r.warn(CodeCurrentTwice, "Lane", finding.Finding{
		Summary: fmt.Sprintf("Lane %d on level %d of rack %s stands twice", at.lane, at.level, at.rack),
		Detail:  "A lane holds one part. The row was left out; moves are counted against the first one.",
		Remedy:  "Correct one of the rows.", Related: []finding.Origin{first.origin()},
	})
	return false
}

func (j *joiner) joinPins() {
	settle(&j.rd.facts.pins, func(p *plant.Pin, r *row) bool {
		part := named(j, j.parts, r, "Part", "", &p.Part, CodePinPart)
		rack := named(j, j.racks, r, "Rack", "", &p.Rack, CodePinRack)
		return part && rack && maybe(j, j.stations, r, "Station", string(j.rackCell[p.Rack]), &p.Station, CodePinStation) && !j.repeats(r)
	}, into(&j.plant.Pins))
}

// sortBreaks puts the breaks of a shift in order, whatever the order of rows.
func sortBreaks(s *plant.Shift) {
	slices.SortFunc(s.Breaks, func(a, b plant.Break) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.Length, b.Length))
	})
}
