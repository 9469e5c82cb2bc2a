package buildlist

import (
	"fmt"

	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// where says in words where a member goes.
func where(f *structure.Frame, i int, u Unit) string {
	m := f.Members[i]
	switch m.Role {
	case structure.Upright:
		return fmt.Sprintf("row %d, %s", row(f, m.From.Y), hand(f, m.From.X))
	case structure.Brace:
		if m.From.Y == m.To.Y {
			return fmt.Sprintf("row %d, across, middle %s over the floor", row(f, m.From.Y), u.Text(m.From.Z))
		}
		return fmt.Sprintf("%s, rows %d to %d, middle %s over the floor", hand(f, m.From.X), row(f, m.From.Y), row(f, m.To.Y), u.Text(m.From.Z))
	case structure.CrossTube:
		return fmt.Sprintf("level %d, middle %s behind the pick side, %s over the floor", m.Level, u.Text(m.From.Y), u.Text(m.From.Z))
	case structure.Rail:
		return fmt.Sprintf("level %d, %s, rows %d to %d, from %s up to %s over the floor", m.Level, hand(f, m.From.X), row(f, m.From.Y), row(f, m.To.Y), u.Text(m.From.Z), u.Text(m.To.Z))
	case structure.Stop:
		return fmt.Sprintf("level %d, at the %s edge, from %s to %s from the left", m.Level, low(f, m.Level), u.Text(m.From.X), u.Text(m.To.X))
	default:
		return fmt.Sprintf("level %d, middle %s from the left", m.Level, u.Text(m.From.X))
	}
}

// row is the number of the row of uprights nearest to y, from 1 at the pick side.
func row(f *structure.Frame, y units.Length) int {
	best := 0
	for i, r := range f.Rows {
		if apart(r, y) < apart(f.Rows[best], y) {
			best = i
		}
	}
	return best + 1
}

func apart(a, b units.Length) units.Length { return max(a-b, b-a) }

// hand is the side of the rack, seen from the pick side.
func hand(f *structure.Frame, x units.Length) string {
	if x < f.Width/2 {
		return "left"
	}
	return "right"
}

// low is the edge at which a level's containers stop.
func low(f *structure.Frame, level int) string {
	if d := f.Deck(level); d != nil && d.Drop < 0 {
		return "load"
	}
	return "pick"
}
