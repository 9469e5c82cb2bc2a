package importers

import (
	"fmt"
	"time"

	"lanewright/importers/column"
	"lanewright/importers/value"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

// Codes of findings about shifts.
const (
	CodeShiftConflict = "shifts.conflict"
	CodeShiftDefault  = "shifts.default"
)

// shiftRow is one row of the Shifts sheet: a shift, a break of it, or both.
type shiftRow struct {
	shift plant.Shift
	// bare rows give days, start and end nowhere: they only add a break.
	bare bool
	brk  *plant.Break
}

const day = 24 * time.Hour

func (r *row) shift() shiftRow {
	s := shiftRow{shift: plant.Shift{Shift: plant.ShiftCode(r.must("Shift").code()), Origin: r.origin()}}
	s.bare = !r.given("Days") && !r.given("Start") && !r.given("End") && r.given("Break start")
	if !s.bare {
		s.shift.Days = r.must("Days").days()
		s.shift.Start = r.must("Start").clock(false)
		s.shift.End = r.must("End").clock(true)
		if s.shift.End <= s.shift.Start {
			s.shift.End += day
		}
	}
	s.brk = r.breakTime()
	return s
}

// breakTime reads the break of the row, nil when it has none. Half a break is
// a contradiction.
func (r *row) breakTime() *plant.Break {
	from, long := r.may("Break start"), r.may("Break minutes")
	if from.blank != long.blank {
		half := from
		if from.blank {
			half = long
		}
		half.report(CodeHalf, fmt.Sprintf("The break has only its %s (%s)", half.field, half.found()), "A break needs a start and its minutes.", "Fill in the other one, or clear this one.")
		return nil
	}
	if from.blank {
		return nil
	}
	b := plant.Break{Start: from.clock(false), Length: long.time(0, day, "a time from 0 to 24 hours"), Origin: r.origin()}
	if r.state == reported || b.Length == 0 {
		return nil
	}
	return &b
}

func (s slot) days() [7]bool {
	return read(s, func() ([7]bool, error) { return value.Days(s.cell) }, func(d [7]bool) bool { return d != [7]bool{} }, "at least one day of the week")
}

// clock reads a time of day; 24:00 is allowed as an end.
func (s slot) clock(end bool) time.Duration {
	high, expected := day-1, "a time of day from 00:00 to 23:59"
	if end {
		high, expected = day, "a time of day from 00:00 to 24:00"
	}
	return read(s, func() (time.Duration, error) { return value.Clock(s.cell) }, between(0, high), expected)
}

// joinShifts makes one shift of all rows of one name.
func (j *joiner) joinShifts() {
	byCode := map[plant.ShiftCode]int{}
	list := &j.rd.facts.shifts
	for _, bare := range []bool{false, true} {
		for f := range list.all() {
			if f.v.bare == bare && f.v.shift.Shift != "" {
				j.joinShift(f, byCode)
			}
		}
	}
	if len(list.rows) == 0 && len(j.plant.Shifts) == 0 && !j.rd.has(column.Shifts) {
		j.plant.Shifts = []plant.Shift{plant.DefaultShift()}
		j.rd.note(nil, CodeShiftDefault, "No shifts are given: one shift of 480 net minutes, Monday to Friday, was assumed",
			"The net minutes of a day turn units per day into a rate.", "Add the sheet Shifts if the plant works other hours.")
	}
	for i := range j.plant.Shifts {
		sortBreaks(&j.plant.Shifts[i])
	}
}

func (j *joiner) joinShift(f fact[shiftRow], byCode map[plant.ShiftCode]int) {
	s := f.v.shift
	out := f.row.state == reported
	s.Shift = plant.ShiftCode(j.shifts.name(f.row.must("Shift"), "", string(s.Shift), out))
	at, known := byCode[s.Shift]
	switch {
	case out || j.repeats(f.row):
		return
	case f.v.bare && !known:
		f.row.must("Days").missing()
		return
	case !known:
		at = len(j.plant.Shifts)
		byCode[s.Shift] = at
		j.plant.Shifts = append(j.plant.Shifts, s)
	case !f.v.bare && !sameHours(j.plant.Shifts[at], s):
		f.row.fail(CodeShiftConflict, "Start", finding.Finding{
			Summary: fmt.Sprintf("Shift %s stands twice with different days, start or end", s.Shift),
			Detail:  "Several rows with one shift name add breaks to one shift.",
			Remedy:  "Give the second shift another name, or make days, start and end the same.",
			Related: []finding.Origin{j.plant.Shifts[at].Origin},
		})
		return
	}
	if f.v.brk != nil {
		b := *f.v.brk
		if hours := j.plant.Shifts[at]; b.Start < hours.Start && b.Start+day < hours.End {
			b.Start += day
		}
		j.plant.Shifts[at].Breaks = append(j.plant.Shifts[at].Breaks, b)
	}
	f.row.state = used
}

func sameHours(a, b plant.Shift) bool {
	return a.Days == b.Days && a.Start == b.Start && a.End == b.End
}
