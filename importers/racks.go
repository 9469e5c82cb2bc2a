package importers

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lanewright/importers/value"
	"lanewright/planner/plant"
)

func (r *row) rack() plant.Rack {
	return plant.Rack{
		Rack:       plant.RackCode(r.must("Rack").code()),
		RackType:   plant.RackTypeCode(r.must("Rack type").code()),
		Cell:       plant.CellCode(r.must("Cell").code()),
		Stations:   codesOf[plant.StationCode](r.may("Stations")),
		Place:      r.place("X", "Y"),
		AislePoint: plant.PointCode(r.must("Aisle point").code()),
		FixedLanes: r.may("Fixed lanes").fixedLanes(),
		Origin:     r.origin(),
	}
}

// fixedLanes reads "1: 416, 416, 320; 2: 317, 317": level, colon, widths of
// the lanes from the left, by level.
func (s slot) fixedLanes() []plant.FixedLanes {
	if s.blank {
		return nil
	}
	return read(s, func() ([]plant.FixedLanes, error) {
		var list []plant.FixedLanes
		for _, text := range strings.FieldsFunc(s.cell.Text, func(r rune) bool { return r == ';' || r == '\n' }) {
			if trim(text) == "" {
				continue
			}
			f, err := s.lanesOfLevel(text)
			if err != nil {
				return nil, err
			}
			if slices.ContainsFunc(list, func(o plant.FixedLanes) bool { return o.Level == f.Level }) {
				return nil, badLanes(fmt.Sprintf("each level once; level %d stands twice", f.Level), s)
			}
			list = append(list, f)
		}
		slices.SortFunc(list, func(a, b plant.FixedLanes) int { return a.Level - b.Level })
		return list, nil
	}, func(list []plant.FixedLanes) bool { return len(list) > 0 }, "the lanes of at least one level")
}

func (s slot) lanesOfLevel(text string) (f plant.FixedLanes, err error) {
	level, widths, ok := strings.Cut(text, ":")
	n, convErr := strconv.Atoi(trim(level))
	if !ok || convErr != nil || n < 1 || n > 100 {
		return f, badLanes(fmt.Sprintf("a level and a colon before the widths in %q", trim(text)), s)
	}
	f.Level = n
	list, marks, ok := splitNumbers(widths, s.row.t.marks)
	if !ok {
		return f, badLanes("a space behind each comma that parts two widths; here "+doubtfulCommas, s)
	}
	for _, w := range list {
		one := s.cell
		one.Text, one.Raw, one.Number = w, "", false
		width, err := value.Length(one, s.unit, s.lengthBase(), marks)
		if err != nil || width <= 0 || width > largestMeasure {
			return f, badLanes(fmt.Sprintf("a width above 0 instead of %q on level %d", w, n)+detail(err), s)
		}
		f.Widths = append(f.Widths, width)
	}
	return f, nil
}

// detail adds what a reader of values expected.
func detail(err error) string {
	var p value.Problem
	if errors.As(err, &p) {
		return " (" + p.Expected + ")"
	}
	return ""
}

func badLanes(expected string, s slot) error {
	return value.Problem{Expected: expected, Remedy: "Write level, colon, lane widths from the left with commas, and semicolons between levels: 1: 416, 416, 320; 2: 317, 317.", Found: s.cell.Text}
}
