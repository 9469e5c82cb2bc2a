package importers

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Codes of findings about whole rows.
const (
	CodeNothingKnown = "rows.nothing-known"
	CodeTotal        = "rows.total"
	CodeRemark       = "rows.remark"
)

// fact is what one row states. Its codes are as the sheet shows them until
// they are joined.
type fact[T any] struct {
	v   T
	row *row
}

// factsOf are the facts of one kind of sheet. What the rows state lies apart
// from them, so that the plant can take it over in the place where it was read.
type factsOf[T any] struct {
	values []T
	rows   []*row
}

// all are the facts in their order.
func (l *factsOf[T]) all() iter.Seq[fact[T]] {
	return func(yield func(fact[T]) bool) {
		for i, r := range l.rows {
			if !yield(fact[T]{l.values[i], r}) {
				return
			}
		}
	}
}

// over lets an empty list of the plant take the place of what was read: no
// fact adds more than one to it, and is read before.
func (l *factsOf[T]) over(list *[]T) {
	if len(*list) == 0 {
		*list = l.values[:0]
	}
}

// facts are the rows of all sheets before joining, in the order of the sheets.
// A row that was left out stays, so that others that name it can say so.
type facts struct {
	shifts     factsOf[shiftRow]
	products   factsOf[plant.Product]
	usage      factsOf[plant.Usage]
	history    factsOf[plant.History]
	parts      factsOf[plant.Part]
	containers factsOf[plant.Container]
	cells      factsOf[plant.Cell]
	stations   factsOf[plant.Station]
	rackTypes  factsOf[plant.RackType]
	levels     factsOf[levelRow]
	racks      factsOf[plant.Rack]
	points     factsOf[plant.AislePoint]
	aisles     factsOf[plant.Aisle]
	vehicles   factsOf[plant.Vehicle]
	current    factsOf[plant.CurrentLane]
	pins       factsOf[plant.Pin]
	kits       factsOf[plant.Kit]
	kitParts   factsOf[kitPartRow]
	stock      factsOf[plant.StockBar]
	turns      factsOf[plant.Turn]
	// currentRoutes are today's routes, routeRules what routes must keep.
	currentRoutes factsOf[plant.CurrentStop]
	routeRules    factsOf[plant.RouteRule]
	flat          flatFacts
}

// readTable reads the rows of t, unless it lacks a column that it needs.
func (rd *reading) readTable(t *table) {
	f := &rd.facts
	switch t.kind.Name {
	case column.Shifts:
		readRows(t, &f.shifts, (*row).shift)
	case column.Products:
		readRows(t, &f.products, (*row).product)
	case column.Usage:
		readRows(t, &f.usage, (*row).usage)
	case column.History:
		readRows(t, &f.history, (*row).history)
	case column.Parts:
		readRows(t, &f.parts, (*row).part)
	case column.Containers:
		readRows(t, &f.containers, (*row).container)
	case column.Cells:
		readRows(t, &f.cells, (*row).cellOfPlant)
	case column.Stations:
		readRows(t, &f.stations, (*row).station)
	case column.RackTypes:
		readRows(t, &f.rackTypes, (*row).rackType)
	case column.Levels:
		readRows(t, &f.levels, (*row).level)
	case column.Racks:
		readRows(t, &f.racks, (*row).rack)
	case column.AislePoints:
		readRows(t, &f.points, (*row).aislePoint)
	case column.Aisles:
		readRows(t, &f.aisles, (*row).aisle)
	case column.Vehicles:
		readRows(t, &f.vehicles, (*row).vehicle)
	case column.CurrentLayout:
		readRows(t, &f.current, (*row).currentLane)
	case column.Pins:
		readRows(t, &f.pins, (*row).pin)
	case column.Kits:
		readRows(t, &f.kits, (*row).kit)
	case column.KitParts:
		readRows(t, &f.kitParts, (*row).kitPart)
	case column.StockOnHand:
		readRows(t, &f.stock, (*row).stockBar)
	case column.Turns:
		readRows(t, &f.turns, (*row).turn)
	case column.CurrentRoutes:
		readRows(t, &f.currentRoutes, (*row).currentStop)
	case column.RouteRules:
		readRows(t, &f.routeRules, (*row).routeRule)
	case column.Flat:
		f.flat.read(t)
	}
}

// readRows reads each row of t that is one.
func readRows[T any](t *table, into *factsOf[T], parse func(*row) T) {
	into.values, into.rows = slices.Grow(into.values, len(t.rows)), slices.Grow(into.rows, len(t.rows))
	for r := range t.stating() {
		into.values, into.rows = append(into.values, parse(r)), append(into.rows, r)
	}
}

// stating are the rows of t that state something; there are none where t lacks
// a column that it needs.
func (t *table) stating() iter.Seq[*row] {
	return func(yield func(*row) bool) {
		if len(missing(t.kind, t.match)) > 0 {
			return
		}
		for _, r := range t.rows {
			if !r.skip() && !yield(r) {
				return
			}
		}
	}
}

// skip settles rows that state nothing: those with a value in no known
// column, repeated headings and totals.
func (r *row) skip() bool {
	switch {
	case !r.knowsAnything():
		r.leaveOut(CodeNothingKnown, "has no value in a known column", "It may be a note or a line between two blocks.")
	case r.repeatsHeadings():
		r.state = skipped
	case r.isRemark():
		r.leaveOut(CodeRemark, "was taken for a remark", fmt.Sprintf("All it holds is the text %.80q, and %s needs more than that.", trim(r.first()), r.t.what()))
	case r.isTotal():
		r.leaveOut(CodeTotal, "was taken for a total", fmt.Sprintf("It begins with %q and lacks what every row of %s needs.", trim(r.first()), r.t.what()))
	default:
		return false
	}
	return true
}

func (r *row) leaveOut(code, what, detail string) {
	r.state = skipped
	r.t.rd.say(finding.Finding{
		Severity: finding.Note, Code: code, Origin: r.origin(),
		Summary: fmt.Sprintf("Row %d of sheet %q %s and was skipped", r.Number, r.t.sheet.Name, what),
		Detail:  detail, Remedy: "Nothing to do, unless the row should count.",
	})
}

func (r *row) knowsAnything() bool {
	cells := r.cells()
	for _, at := range r.t.match.At {
		if at >= len(cells) {
			continue
		}
		if c := cells[at]; trim(c.Text) != "" || c.Error || c.NoValue {
			return true
		}
	}
	return false
}

func (r *row) repeatsHeadings() bool {
	return slices.EqualFunc(r.t.headCells, r.cells(), func(h, c sheet.Cell) bool { return h.Text == c.Text })
}

// totals are the folded words that begin a row of sums, in four languages.
var totals = map[string]bool{
	"total": true, "totals": true, "sum": true, "subtotal": true, "grandtotal": true, "sumtotal": true,
	"summe": true, "gesamt": true, "gesamtsumme": true, "zwischensumme": true, "insgesamt": true,
	"suma": true, "totales": true, "totalgeneral": true, "sumatotal": true, "sumatoria": true,
	"totaux": true, "somme": true, "soustotal": true,
}

// isTotal reports whether the row begins with a word for a sum and lacks a
// required value.
func (r *row) isTotal() bool {
	text := r.first()
	word, _, _ := strings.Cut(strings.TrimSpace(text), " ")
	if !totals[column.Fold(word)] && !totals[column.Fold(text)] {
		return false
	}
	return slices.ContainsFunc(r.t.kind.Columns, func(c column.Column) bool { return c.Required && !r.given(c.Field) })
}

// isRemark reports whether the row holds one text only, a sentence rather than
// a code, where its sheet needs several values.
func (r *row) isRemark() bool {
	if filled(r.cells()) != 1 || r.t.kind.Name == column.Plant {
		return false
	}
	needed := 0
	for _, c := range r.t.kind.Columns {
		if c.Required {
			needed++
		}
	}
	text := trim(r.first())
	last := r.Row == &r.t.sheet.Rows[len(r.t.sheet.Rows)-1] || r.t.gapBefore(r.index())
	words := len(strings.Fields(text))
	return needed > 1 && (words > 2 || words > 1 && last || strings.HasSuffix(text, ":") || strings.HasPrefix(text, "*"))
}

// index is the position of the row in its sheet.
func (r *row) index() int {
	i, _ := slices.BinarySearchFunc(r.t.sheet.Rows, r.Number, func(o sheet.Row, n int) int { return o.Number - n })
	return i
}

// first returns the text of the row's first cell that has one.
func (r *row) first() string {
	for _, c := range r.cells() {
		if trim(c.Text) != "" {
			return c.Text
		}
	}
	return ""
}
