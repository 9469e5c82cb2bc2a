package demand

import (
	"cmp"
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of the findings of this stage.
const (
	CodeNoTime           = "demand.no-working-time"
	CodeRowsDiffer       = "demand.rows-differ"
	CodeNoUse            = "demand.no-use"
	CodeShortHistory     = "demand.history-too-short"
	CodeHistoryDrifts    = "demand.history-differs"
	CodeScrapOnRate      = "demand.scrap-on-direct-rate"
	CodeLevelUnused      = "demand.service-level-unused"
	CodeYearClipped      = "demand.shortages-every-other-cycle"
	CodeNotOverdispersed = "demand.not-overdispersed"
	CodeLongInterval     = "demand.interval-longer-than-shift"
	CodeHistoryTrend     = "demand.history-trend"
	CodeHistoryTaken     = "demand.history-taken"
	CodeHistoryShort     = "demand.history-too-short-to-use"
	CodeHistoryUnshared  = "demand.history-without-use"
)

// Loops returns the loops of the plant, ordered by cell, station and part.
//
// The rate of a loop is Σ u·a·(1+s)/H over the rows of its products plus its
// direct rates, in pieces per net minute, with H the net minutes per day of
// its cell; the variance per net minute is Σ (cv·u·a·(1+s))²/H, products and
// direct rows independent, rows of one product added before they are squared
// (planning rules, section 1). Settings s stand in for the plant's own; where
// they let the history decide, its mean and variation stand in for those of
// the rows (see HistoryUse).
//
// A usage row that names an unknown part, container or product was reported
// when it was read and is passed over here.
func Loops(x *plant.Index, s plant.Settings) ([]Loop, finding.List) {
	b := newBuilder(x, s)
	b.findings = append(b.findings, b.noticed()...)
	points := b.points()
	loops := make([]Loop, 0, len(points))
	for _, p := range points {
		if l, ok := b.loop(p); ok {
			loops = append(loops, l)
		}
	}
	return loops, b.findings
}

// builder reads the rows of one plant under one group of settings.
type builder struct {
	x        *plant.Index
	settings plant.Settings
	cells    map[plant.CellCode]hours
	history  *history
	taken    taken
	said     map[said]bool
	findings finding.List
}

// said is a finding that is given once for a cell and what it says of it.
type said struct {
	code string
	cell plant.CellCode
	what string
}

func newBuilder(x *plant.Index, s plant.Settings) *builder {
	b := &builder{x: x, settings: s, cells: map[plant.CellCode]hours{}, said: map[said]bool{}}
	b.take()
	return b
}

// once reports whether it is asked for the first time.
func (b *builder) once(s said) bool {
	first := !b.said[s]
	b.said[s] = true
	return first
}

// point is one point of use with its rows, as compareRows orders them.
type point struct {
	Key
	rows []*plant.Usage
}

// points returns the points of use, ordered by key.
func (b *builder) points() []point {
	var list []point
	at := map[Key]int{}
	for u := range b.usage() {
		k := Key{u.Part, u.Cell, u.Station}
		i, seen := at[k]
		if !seen {
			i = len(list)
			at[k] = i
			list = append(list, point{Key: k})
		}
		list[i].rows = append(list[i].rows, u)
	}
	for _, p := range list {
		slices.SortStableFunc(p.rows, compareRows)
	}
	slices.SortFunc(list, func(a, b point) int { return a.Compare(b.Key) })
	return list
}

// usage yields the rows that count, in the order of the sheet.
func (b *builder) usage() func(func(*plant.Usage) bool) {
	return func(yield func(*plant.Usage) bool) {
		for i := range b.x.Plant.Usage {
			if u := &b.x.Plant.Usage[i]; b.known(u) && !yield(u) {
				return
			}
		}
	}
}

func (b *builder) known(u *plant.Usage) bool {
	part := b.x.Parts[u.Part]
	if part == nil || b.x.Containers[part.Container] == nil || part.Pack < 1 {
		return false
	}
	return u.Product == "" || b.x.Products[u.Product] != nil
}

// hours returns when cell works.
func (b *builder) hours(cell plant.CellCode) hours {
	h, ok := b.cells[cell]
	if !ok {
		h = hoursOf(b.x.CellShifts(cell))
		b.cells[cell] = h
	}
	return h
}

// noTime says once of a cell that it works no minute.
func (b *builder) noTime(cell plant.CellCode) {
	if !b.once(said{code: CodeNoTime, cell: cell}) {
		return
	}
	var origin finding.Origin
	if c := b.x.Cells[cell]; c != nil {
		origin = c.Origin
	}
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Error, Code: CodeNoTime,
		Summary: fmt.Sprintf("Cell %s works no minute of the week, so its rates can not be computed", cell),
		Detail:  "A rate is pieces per net minute of the shifts the cell works. None of its shifts has a day and a minute that is worked.",
		Remedy:  "Give the cell a shift with days and net time in the Cells and Shifts sheets.",
		Origin:  origin, Subject: finding.Subject{Cell: string(cell)},
	})
}

func (b *builder) loop(p point) (Loop, bool) {
	h := b.hours(p.Cell)
	if h.day.IsZero() {
		b.noTime(p.Cell)
		return Loop{}, false
	}
	part := b.x.Parts[p.Part]
	l := Loop{Key: p.Key, Container: part.Container, Pack: part.Pack, Day: h.day, Origin: p.rows[0].Origin}
	daily := make([]units.Ratio, len(p.rows))
	l.Sources = make([]Source, len(p.rows))
	for i, u := range p.rows {
		daily[i] = b.daily(u, h.day)
		b.scrap(&l, u)
		rate := daily[i].Mul(h.perDay)
		l.Rate = plus(l.Rate, rate)
		l.Sources[i] = Source{Product: u.Product, Rate: rate, Origin: u.Origin}
	}
	l.Variance = b.spread(p.rows, daily).Mul(h.perDay)
	b.ask(&l, p.rows)
	b.model(&l, p.rows)
	b.unused(&l)
	return l, true
}

// unused notes a loop with no use.
func (b *builder) unused(l *Loop) {
	if !l.Rate.IsZero() {
		return
	}
	b.findings = append(b.findings, finding.Finding{
		Severity: finding.Note, Code: CodeNoUse,
		Summary: fmt.Sprintf("Part %s is not used at station %s of cell %s at present", l.Part, l.Station, l.Cell),
		Detail:  "All rows of this point of use come to 0 pieces per day. It keeps the least loop of 2 containers.",
		Remedy:  "Remove the usage rows if the part has left the station, or check the units per day of its products.",
		Origin:  l.Origin, Subject: l.subject(),
	})
}

// compareRows brings rows into an order that does not depend on the order of
// the sheet where it could matter to a result; rows that compare equal are
// interchangeable.
func compareRows(a, b *plant.Usage) int {
	return cmp.Or(cmp.Compare(a.Product, b.Product), compareOrigins(a.Origin, b.Origin))
}

func compareOrigins(a, b finding.Origin) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Sheet, b.Sheet), cmp.Compare(a.Row, b.Row))
}

func (l Loop) subject() finding.Subject {
	return finding.Subject{Part: string(l.Part), Cell: string(l.Cell), Station: string(l.Station)}
}
