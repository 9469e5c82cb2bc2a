package importers

import (
	"fmt"
	"time"

	"lanewright/importers/column"
	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/units"
)

// understood is the value of s as the plan will reckon with it; one that can
// not be read stands behind a question mark.
func (s slot) understood() string {
	if s.blank {
		return ""
	}
	text, err := s.canonical()
	if err != nil {
		return "? " + s.found()
	}
	return text
}

// canonical reads a value by the kind of its column.
func (s slot) canonical() (string, error) {
	if s.field == column.Measures {
		return s.canonicalSides()
	}
	set, marks := s.row.t.rd.plant.Settings, s.row.t.marks
	shown := func(v fmt.Stringer, err error) (string, error) {
		if err != nil {
			return "", err
		}
		return v.String(), nil
	}
	switch column.HoldsOf(s.field) {
	case column.Length:
		v, err := value.Length(s.cell, s.unit, s.lengthBase(), marks)
		return shown(v, err)
	case column.Mass:
		v, err := value.Mass(s.cell, s.unit, set.MassUnit, marks)
		return shown(v, err)
	case column.Time:
		v, err := value.Duration(s.cell, s.unit, s.base, marks)
		return shown(v, err)
	case column.Speed:
		v, err := value.Speed(s.cell, s.unit, s.base, marks)
		return units.R(int64(v), int64(units.MetrePerSecond)).String() + " m/s", err
	case column.Stress:
		v, err := value.Stress(s.cell, s.unit, s.base, marks)
		return shown(v, err)
	case column.Percent:
		v, err := value.Percent(s.cell, marks)
		return shown(v, err)
	case column.Money:
		v, err := value.Money(s.cell, s.unit, "", marks)
		return shown(v, err)
	case column.Share:
		v, err := s.fraction()
		return shown(v, err)
	case column.Rate, column.Number, column.Count, column.Position:
		v, err := value.Ratio(s.cell, marks)
		return shown(v, err)
	case column.Answer:
		v, err := value.YesNo(s.cell)
		return map[bool]string{true: "yes", false: "no"}[v], err
	case column.Date:
		v, err := value.Date(s.cell)
		return v.Format(time.DateOnly), err
	}
	return textOf(s.cell)
}

// textOf is the text of a cell, spaces and all.
func textOf(c sheet.Cell) (string, error) {
	_, err := plainText(c, 2000)
	return c.Text, err
}
