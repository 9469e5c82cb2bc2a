package importers

import (
	"fmt"

	"lanewright/importers/sheet"
	"lanewright/importers/value"
	"lanewright/planner/units"
)

// measured says what the columns with a unit hold.
var measured = map[string]string{
	"Length": "length", "Width": "length", "Height": "length", "Frontage": "length", "New rack X": "length", "New rack Y": "length",
	"X": "length", "Y": "length", "Walk limit": "length", "Depth": "length", "Pick height": "length", "Drop": "length", "Lane length": "length",
	"Usable width": "length", "Clear height": "length", "Piece mass": "mass", "Empty mass": "mass", "Gross mass limit": "mass", "Own mass": "mass",
	"Mass limit": "mass", "Refill interval": "time", "Response time": "time", "Break minutes": "time", "Stop time": "time", "Load time": "time",
	"Unload time": "time", "Empty time": "time", "Speed": "speed", "Speed limit": "speed", "Scrap": "percent", "Service level": "percent", "Safety": "percent",
}

// MeasureOf says what the values of a column measure: length, mass, time,
// speed, percent, or nothing that has a unit, "".
func MeasureOf(field string) string { return measured[field] }

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
	set, marks := s.row.t.rd.plant.Settings, s.row.t.marks
	shown := func(v fmt.Stringer, err error) (string, error) {
		if err != nil {
			return "", err
		}
		return v.String(), nil
	}
	switch kind := measured[s.field]; {
	case kind == "length":
		v, err := value.Length(s.cell, s.unit, s.lengthBase(), marks)
		return shown(v, err)
	case kind == "mass":
		v, err := value.Mass(s.cell, s.unit, set.MassUnit, marks)
		return shown(v, err)
	case kind == "time":
		v, err := value.Duration(s.cell, s.unit, s.base, marks)
		return shown(v, err)
	case kind == "speed":
		v, err := value.Speed(s.cell, s.unit, s.base, marks)
		return units.R(int64(v), int64(units.MetrePerSecond)).String() + " m/s", err
	case kind == "percent":
		v, err := value.Percent(s.cell, marks)
		return shown(v, err)
	case s.field == "Unit cost", s.field == "Cost":
		v, err := value.Money(s.cell, s.unit, "", marks)
		return shown(v, err)
	case numberFields[s.field], s.field == "Standard pack", s.field == "Count":
		v, err := value.Ratio(s.cell, marks)
		return shown(v, err)
	}
	return textOf(s.cell)
}

// textOf is the text of a cell, spaces and all.
func textOf(c sheet.Cell) (string, error) {
	_, err := plainText(c, 2000)
	return c.Text, err
}
