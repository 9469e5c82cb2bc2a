package value

import (
	"slices"
	"strings"
	"time"

	"lanewright/importers/sheet"
	"lanewright/planner/units"
)

// quantity is what the readers of lengths, masses, times and speeds share.
type quantity struct {
	table  table
	wanted string // with an example
	unit   string // an example of a unit
	marks  Marks
}

// Length reads a length: "416", "416 mm", "15 1/4 in", 2' 3 1/2". The unit is
// the heading's, else the cell's, else the default one; a cell whose unit is
// not the heading's is a Problem.
func Length(c sheet.Cell, headerUnit, defaultUnit string, m Marks) (units.Length, error) {
	q := quantity{lengths, "a length such as 416 mm or 15 1/4 in", "mm, cm, m, in or ft", m}
	v, err := q.read(c, headerUnit, defaultUnit)
	if err != nil {
		return 0, err
	}
	l, ok := units.Lengths(v, units.Nanometre)
	if !ok {
		return 0, q.outOfRange(c)
	}
	return l, nil
}

// Mass reads a mass: "1,5 kg", "8 oz", "2 lb 3 oz". See Length for its unit.
func Mass(c sheet.Cell, headerUnit, defaultUnit string, m Marks) (units.Mass, error) {
	q := quantity{masses, "a mass such as 1.5 kg or 8 oz", "g, kg, t, oz or lb", m}
	v, err := q.read(c, headerUnit, defaultUnit)
	if err != nil {
		return 0, err
	}
	mass, ok := units.Masses(v, units.Int(1))
	if !ok {
		return 0, q.outOfRange(c)
	}
	return mass, nil
}

// Speed reads a speed: "1.2 m/s", "6 km/h", "200 ft/min". See Length for its
// unit.
func Speed(c sheet.Cell, headerUnit, defaultUnit string, m Marks) (units.Speed, error) {
	q := quantity{speeds, "a speed such as 1.2 m/s or 6 km/h", "m/s, m/min, km/h, ft/min or mph", m}
	v, err := q.read(c, headerUnit, defaultUnit)
	if err != nil {
		return 0, err
	}
	l, ok := units.Lengths(v, units.Nanometre)
	if !ok {
		return 0, q.outOfRange(c)
	}
	return units.Speed(l), nil
}

// Stress reads a force per area: "235 MPa", "29000 ksi". See Length for its
// unit.
func Stress(c sheet.Cell, headerUnit, defaultUnit string, m Marks) (units.Stress, error) {
	q := quantity{stresses, "a stress such as 235 MPa or 46 ksi", "MPa, GPa, psi or ksi", m}
	v, err := q.read(c, headerUnit, defaultUnit)
	if err != nil {
		return 0, err
	}
	s, ok := units.Stresses(v, units.Int(1))
	if !ok {
		return 0, q.outOfRange(c)
	}
	return s, nil
}

// Duration reads a stretch of time: "30", "90 s", "1 h 30 min", "0:30:00", or
// a spreadsheet's time. See Length for its unit; a spreadsheet's time and one
// with two colons need none.
func Duration(c sheet.Cell, headerUnit, defaultUnit string, m Marks) (time.Duration, error) {
	q := quantity{durations, "a time such as 30 min or 1 h 30 min", "s, min or h", m}
	if c.Number && c.Date {
		return q.spreadsheetTime(c)
	}
	if d, ok := threeFields(clean(c.Text)); ok && !c.Number {
		return d, nil
	}
	v, err := q.read(c, headerUnit, defaultUnit)
	if err != nil {
		return 0, err
	}
	n, ok := units.Lengths(v, units.Nanometre)
	if !ok {
		return 0, q.outOfRange(c)
	}
	return time.Duration(n), nil
}

// spreadsheetTime reads a cell with a time format; its number counts days.
func (q quantity) spreadsheetTime(c sheet.Cell) (time.Duration, error) {
	days, err := units.ParseRatio(c.Raw)
	if err != nil || strings.Contains(c.Text, "-") {
		return 0, problem(c, q.wanted+", not a date", "Set the format of the cell to Number and type the time again.")
	}
	return toSecond(days), nil
}

// toSecond returns a number of days to the nearest second, the precision to
// which spreadsheets keep times.
func toSecond(days units.Ratio) time.Duration {
	seconds := days.Mul(units.Int(24 * 60 * 60)).Add(units.R(1, 2)).Floor()
	return time.Duration(min(seconds, 1<<33)) * time.Second
}

// threeFields reads h:mm:ss.
func threeFields(text string) (time.Duration, bool) {
	f := strings.Split(text, ":")
	if len(f) != 3 || len(f[0]) > 5 || len(f[1]) != 2 || len(f[2]) != 2 {
		return 0, false
	}
	h, ok1 := digits(f[0])
	m, ok2 := digits(f[1])
	s, ok3 := digits(f[2])
	if !ok1 || !ok2 || !ok3 || m > 59 || s > 59 {
		return 0, false
	}
	return time.Duration(h*3600+m*60+s) * time.Second, true
}

// digits reads a short whole number without sign.
func digits(s string) (int, bool) {
	n := 0
	for i := range len(s) {
		if !isDigit(s[i]) {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return n, s != "" && len(s) <= 9
}

func (q quantity) outOfRange(c sheet.Cell) Problem {
	return problem(c, q.wanted+" of reasonable size", "Correct the value or its unit.")
}

func (q quantity) unknownUnit(c sheet.Cell, unit string) Problem {
	return problem(c, q.wanted+"; the unit "+quote(unit)+" is not known", "Use "+q.unit+".")
}

func quote(s string) string {
	if len(s) > 40 {
		s = strings.ToValidUTF8(s[:40], "") + "…"
	}
	return "\"" + s + "\""
}

// read returns the quantity in the base unit of its table.
func (q quantity) read(c sheet.Cell, headerUnit, defaultUnit string) (units.Ratio, error) {
	n, err := readClear(c, q.marks, q.wanted)
	if err != nil {
		return units.Ratio{}, err
	}
	if c.Number && !Known(n.rest) {
		n.rest = ""
	}
	if n.rest == "" {
		return q.withUnitOf(c, n.value, headerUnit, defaultUnit)
	}
	return q.compound(c, n, headerUnit)
}

// withUnitOf gives a bare number the unit of the heading or the default one.
func (q quantity) withUnitOf(c sheet.Cell, v units.Ratio, headerUnit, defaultUnit string) (units.Ratio, error) {
	unit := headerUnit
	if unit == "" {
		unit = defaultUnit
	}
	f, ok := q.table.factor(unit)
	switch {
	case ok:
		return v.Mul(f), nil
	case unit == "":
		return v, problem(c, q.wanted+"; neither the heading nor the cell names a unit", "Write the unit into the heading, for example in brackets: "+q.unit+".")
	}
	return v, q.unknownUnit(c, unit)
}

// compound reads what follows the first number: its unit, and further numbers
// of smaller units, as in 2 ft 3 1/2 in.
func (q quantity) compound(c sheet.Cell, n numeral, headerUnit string) (units.Ratio, error) {
	sum, factors, err := q.sum(c, n)
	if err != nil {
		return sum, err
	}
	if header, ok := q.table.factor(headerUnit); headerUnit != "" && (!ok || !slices.ContainsFunc(factors, header.Equal)) {
		return sum, problem(c, q.wanted+"; its unit is not "+quote(headerUnit)+", which the heading names", "Give the value in the heading's unit, or take the unit out of the heading.")
	}
	return sum, nil
}

// sum adds up numbers with their units and returns which units they had. A
// minus sign before the first number holds for all of them.
func (q quantity) sum(c sheet.Cell, n numeral) (sum units.Ratio, factors []units.Ratio, err error) {
	negative := strings.HasPrefix(clean(c.Text), "-")
	if negative {
		n.value = units.Int(0).Sub(n.value)
	}
	for {
		unit, rest := cutUnit(n.rest)
		f, ok := q.table.factor(unit)
		if !ok {
			return sum, nil, q.unknownUnit(c, unit)
		}
		if len(factors) > 0 && f.Cmp(factors[len(factors)-1]) >= 0 {
			return sum, nil, problem(c, q.wanted, "Write one number with one unit.")
		}
		factors, sum = append(factors, f), sum.Add(n.value.Mul(f))
		if rest == "" {
			break
		}
		if n, err = readText(c, rest, q.marks, q.wanted); err == nil {
			err = n.ambiguity(c, q.wanted)
		}
		if err != nil {
			return sum, nil, err
		}
	}
	if negative {
		sum = units.Int(0).Sub(sum)
	}
	return sum, factors, nil
}

// cutUnit takes the unit from the beginning of a text: everything up to the
// next digit, without the hyphen or comma that may part it from there.
func cutUnit(s string) (unit, rest string) {
	i := strings.IndexAny(s, "0123456789")
	if i < 0 {
		return strings.TrimSpace(s), ""
	}
	return strings.TrimRight(s[:i], " -,"), s[i:]
}
