package importers

import (
	"fmt"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Codes of findings about things that a row names and the plant does not have.
const (
	CodeUnknownContainer = "parts.unknown-container"
	CodeUnknownLookAlike = "parts.unknown-look-alike"
	CodeProductCell      = "products.unknown-cell"
	CodeUsagePart        = "usage.unknown-part"
	CodeUsageProduct     = "usage.unknown-product"
	CodeUsageCell        = "usage.unknown-cell"
	CodeUsageStation     = "usage.unknown-station"
	CodeHistoryUnknown   = "history.unknown-code"
	CodeStationCell      = "stations.unknown-cell"
	CodeCellShift        = "cells.unknown-shift"
	CodeCellRackType     = "cells.unknown-rack-type"
	CodeCellPoint        = "cells.unknown-point"
	CodeSheetDerived     = "sheets.derived"
)

// joiner resolves the codes of all rows into one plant.
type joiner struct {
	rd    *reading
	plant *plant.Plant
	// seen finds rows by what they say.
	seen map[fingerprint]*row
	// partAt and containerAt find parts and containers in the plant, rackCell the cell of a rack, groups the
	// first spelling of a keep-apart group.
	partAt      map[plant.PartCode]int
	containerAt map[plant.ContainerCode]int
	rackCell    map[plant.RackCode]plant.CellCode
	groups      map[string]string

	shifts, products, parts, containers, cells, stations, rackTypes, racks, points, vehicles, kits, tours *codebook
}

// join turns the facts into the plant: what others name comes first.
func (rd *reading) join() {
	book := func(kind, home string) *codebook { return newCodebook(rd, kind, home) }
	j := &joiner{
		rd: rd, plant: &rd.plant, seen: map[fingerprint]*row{},
		partAt: map[plant.PartCode]int{}, containerAt: map[plant.ContainerCode]int{},
		rackCell: map[plant.RackCode]plant.CellCode{}, groups: map[string]string{},
		shifts: book("shift", column.Shifts), products: book("product", column.Products), parts: book("part", column.Parts),
		containers: book("container", column.Containers), cells: book("cell", column.Cells), stations: book("station", column.Stations),
		rackTypes: book("rack type", column.RackTypes), racks: book("rack", column.Racks), points: book("aisle point", column.AislePoints),
		vehicles: book("vehicle type", column.Vehicles), kits: book("kit", column.Kits), tours: book("route", column.CurrentRoutes),
	}
	j.cells.open, j.stations.open = !rd.has(column.Cells), !rd.has(column.Stations)
	j.joinShifts()
	j.joinKits()
	j.joinStock()
	j.joinRackTypes()
	j.joinPoints()
	j.joinCells()
	j.joinStations()
	j.joinContainers()
	j.joinParts()
	j.joinProducts()
	j.joinUsage()
	j.joinFlat()
	j.joinLookAlikes()
	j.joinHistory()
	j.joinRacks()
	j.joinAisles()
	j.joinVehicles()
	j.joinCurrent()
	j.joinPins()
	j.joinTurns()
	j.joinCurrentRoutes()
	j.joinRouteRules()
	j.derive()
	j.namedSheets()
}

// ofKind returns the tables that were read as one kind of sheet.
func (rd *reading) ofKind(kind string) []*table {
	return slices.DeleteFunc(slices.Clone(rd.tables), func(t *table) bool { return t.kind.Name != kind })
}

// has reports whether any sheet of that kind has a row; one with headings only
// is as good as none.
func (rd *reading) has(kind string) bool {
	for _, t := range rd.tables {
		if t.kind.Name == kind && slices.ContainsFunc(t.rows, func(r *row) bool { return r.state != skipped }) {
			return true
		}
	}
	return false
}

// repeats reports, and leaves out, a row that says exactly what an earlier one
// of its kind says.
func (j *joiner) repeats(r *row) bool {
	first := j.earlier(r)
	if first == nil {
		return false
	}
	r.state = reported
	r.warn(CodeRepeatedRow, "", finding.Finding{
		Summary: fmt.Sprintf("Row %d of sheet %q says the same as row %d", r.Number, r.t.sheet.Name, first.Number),
		Detail:  "The second one was left out; nothing is lost by it.",
		Remedy:  "Take one of the rows out.", Related: []finding.Origin{first.origin()},
	})
	return true
}

// earlier returns the first row of the same kind that says the same, nil when
// r is that row.
func (j *joiner) earlier(r *row) *row {
	key := r.fingerprint()
	first := j.seen[key]
	if first == nil {
		j.seen[key] = r
	}
	return first
}

// enter defines a code in b and reports whether the row may be used: it was
// read well, and it is the first of its code. A second row that says the same
// is harmless, except of a rack: two may stand there under one name.
func (j *joiner) enter(b *codebook, r *row, field, scope, raw string) (code string, ok bool) {
	if trim(raw) == "" {
		return "", false
	}
	out := r.state == reported
	e, first := b.define(r.must(field), scope, raw, out)
	switch {
	case out || b != j.racks && j.repeats(r):
		return e.code, false
	case !first:
		r.fail(CodeDuplicate, field, finding.Finding{
			Summary: fmt.Sprintf("The %s %s stands twice", b.kind, e.code),
			Detail:  "Which of the two rows holds, or whether both are meant, can not be known.",
			Remedy:  "Take one of the rows out, or give one of them another code.", Related: []finding.Origin{e.row.origin()},
		})
		return e.code, false
	}
	r.state = used
	return e.code, true
}

// ref resolves a code that r names in field. When there is no such thing, the
// row is left out with an error of that code.
func (j *joiner) ref(b *codebook, r *row, field, scope, raw, code string) (string, bool) {
	e := b.find(r.may(field), scope, raw)
	if e != nil && !e.out {
		return e.code, true
	}
	r.fail(code, field, b.unknown(scope, raw, e))
	return "", false
}

// weakRef is ref for rows that the plan can do without: a warning.
func (j *joiner) weakRef(b *codebook, r *row, field, scope, raw, code string) (string, bool) {
	e := b.find(r.may(field), scope, raw)
	if e != nil && !e.out {
		return e.code, true
	}
	f := b.unknown(scope, raw, e)
	f.Detail += " The row was left out."
	r.state = reported
	r.warn(code, field, f)
	return "", false
}

// unknown words the finding that raw names nothing, or something that was
// left out itself.
func (b *codebook) unknown(scope, raw string, e *entry) finding.Finding {
	if e != nil {
		return finding.Finding{
			Summary: fmt.Sprintf("The %s %s was left out itself", b.kind, e.code),
			Detail:  fmt.Sprintf("Its own row (%s) has an error.", e.row.origin()),
			Remedy:  "Repair that row first.", Related: []finding.Origin{e.row.origin()},
		}
	}
	where := ""
	if scope != "" {
		where = " in cell " + scope
	}
	return finding.Finding{
		Summary: fmt.Sprintf("There is no %s %q%s", b.kind, trim(raw), where),
		Detail:  b.whyUnknown(),
		Remedy:  b.near(scope, raw) + fmt.Sprintf("Correct the code, or add the %s to its sheet.", b.kind),
	}
}

// whyUnknown says why there is no such code: most often it is mistyped, but
// the sheet that defines it may be missing, empty or unreadable.
func (b *codebook) whyUnknown() string {
	tables := b.rd.ofKind(b.home)
	byFlat := (b.home == column.Parts || b.home == column.Containers) && len(b.rd.ofKind(column.Flat)) > 0
	readable := func(t *table) bool { return len(missing(t.kind, t.match)) == 0 }
	switch {
	case byFlat || b.rd.has(b.home) && slices.ContainsFunc(tables, readable):
		return fmt.Sprintf("No row of the plant's sheets defines this %s.", b.kind)
	case len(tables) == 0:
		b.missed++
		return fmt.Sprintf("There is no sheet %s that defines it.", b.home)
	case b.rd.has(b.home):
		return fmt.Sprintf("The sheet %s, which would define it, lacks a column, so none of its rows could be used.", b.home)
	default:
		return fmt.Sprintf("The sheet %s, which would define it, has no rows.", b.home)
	}
}

// namedSheets reports, once each, the sheets that are missing although rows
// name what they would define. Parts and Containers are reported anyway.
func (j *joiner) namedSheets() {
	for _, b := range []*codebook{j.shifts, j.products, j.cells, j.stations, j.rackTypes, j.racks, j.points} {
		if b.missed == 0 {
			continue
		}
		j.rd.say(finding.Finding{
			Severity: finding.Error, Code: CodeSheetMissing, Origin: j.rd.file(),
			Summary: fmt.Sprintf("There is no sheet %s, but other rows name %ss (%d times)", b.home, b.kind, b.missed),
			Detail:  "These rows were left out, and those that depend on them; each is listed.",
			Remedy:  "Add the sheet " + b.home + " first; most of the other errors will go with it.",
		})
	}
}

// derive adds the cells and stations that rows name where no sheet lists
// them.
func (j *joiner) derive() {
	cells, stations := 0, 0
	if j.cells.open {
		for _, code := range j.cells.names[""] {
			e := j.cells.entries[scoped{"", foldCode(code)}]
			j.plant.Cells = append(j.plant.Cells, plant.Cell{Cell: plant.CellCode(code), Origin: e.row.origin()})
			cells++
		}
	}
	if j.stations.open {
		for _, c := range j.plant.Cells {
			for _, code := range j.stations.names[string(c.Cell)] {
				e := j.stations.entries[scoped{string(c.Cell), foldCode(code)}]
				j.plant.Stations = append(j.plant.Stations, plant.Station{
					Station: plant.StationCode(code), Cell: c.Cell, WalkLimit: plant.DefaultWalkLimit, Origin: e.row.origin(),
				})
				stations++
			}
		}
	}
	if cells+stations > 0 {
		var taken, sheets []string
		if j.cells.open {
			taken, sheets = append(taken, count(cells, "cell")), append(sheets, column.Cells)
		}
		if j.stations.open {
			taken, sheets = append(taken, count(stations, "station")), append(sheets, column.Stations)
		}
		j.rd.note(nil, CodeSheetDerived, strings.Join(taken, " and ")+" were taken from the rows that name them",
			"No sheet "+strings.Join(sheets, " or ")+" lists them, so a mistyped code makes one of its own.",
			"Add the sheets Cells and Stations; with coordinates, walking can be counted.")
	}
}

// count writes "1 cell", "2 cells".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
