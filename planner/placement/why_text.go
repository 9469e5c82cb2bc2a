package placement

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// String tells of another place in a sentence or two.
func (p OtherPlace) String() string {
	where := fmt.Sprintf("%s, %s along the lane, %s", sentenceOf(p.At.text()), alongText(p.Side), count(p.Lanes, "lane"))
	switch {
	case !p.Possible && len(p.InTheWay) == 0:
		return fmt.Sprintf("%s: %s by itself, but the level does not hold it: %s.", where, effortText(p.Effort), p.lacks())
	case !p.Possible:
		return fmt.Sprintf("%s: %s by itself, but %s would have to leave and not all would find another lane.", where, effortText(p.Effort), loopsText(p.InTheWay))
	case len(p.InTheWay) == 0:
		return fmt.Sprintf("%s: nothing is in the way. The cell would have %s; %s.", where, effortText(p.Effort), p.leaves())
	}
	return fmt.Sprintf("%s: %s would have to leave (%s). The cell would then have %s; %s.", where, loopsText(p.InTheWay), movesText(p.Edits, p.InTheWay), effortText(p.Effort), p.leaves())
}

// leaves says what stays free.
func (p OtherPlace) leaves() string {
	text := fmt.Sprintf("%s of width", max(0, p.WidthLeft))
	if p.MassLeft >= 0 {
		text += fmt.Sprintf(" and %s of load", massText(p.MassLeft))
	}
	return text + " would be left there"
}

// lacks says what a level lacks for a loop added to what lies there.
func (p OtherPlace) lacks() string {
	switch {
	case p.MassLeft < -1:
		return fmt.Sprintf("%s of load are missing", massText(-p.MassLeft))
	case p.WidthLeft < 0:
		return fmt.Sprintf("%s of width are missing", -p.WidthLeft)
	}
	return "no order of its lanes is possible"
}

func massText(m units.Mass) string {
	return strconv.FormatFloat(math.Round(10*m.KG())/10, 'f', -1, 64) + " kg"
}

// effortText is "4.2 kg/h more effort".
func effortText(e float64) string {
	tenths := math.Round(10*math.Abs(e)) / 10
	number := strconv.FormatFloat(tenths, 'f', -1, 64)
	switch {
	case tenths == 0:
		return "as much effort as now"
	case e > 0:
		return number + " kg/h more effort"
	}
	return number + " kg/h less effort"
}

func alongText(side plant.FlowSide) string {
	if side == plant.WidthAlong {
		return "width"
	}
	return "length"
}

// loopsText names loops by part.
func loopsText(keys []demand.Key) string {
	var names []string
	for _, k := range keys {
		names = append(names, string(k.Part))
	}
	if len(names) == 1 {
		return "part " + names[0]
	}
	return "parts " + finding.And(names)
}

// movesText says where the loops in the way would go.
func movesText(edits []Edit, keys []demand.Key) string {
	var list []string
	for _, e := range edits {
		m, ok := e.(MoveLoop)
		for _, k := range keys {
			if ok && m.Loop == k {
				name := ""
				if len(keys) > 1 {
					name = string(k.Part) + " "
				}
				list = append(list, name+"to "+m.To.text())
			}
		}
	}
	return strings.Join(list, "; ")
}

// String tells of a change in a sentence or two.
func (c Change) String() string {
	text := c.does(c.Kind)
	if c.And != "" {
		and := c.does(c.And)
		text += " and " + strings.ToLower(and[:1]) + and[1:]
	}
	if len(c.Moved) > 0 && c.Kind != ByMoves {
		text += fmt.Sprintf(" and with %s moved (%s)", loopsText(c.Moved), movesText(c.Edits, c.Moved))
	}
	what := "its " + count(c.Containers, "container")
	if c.Left > 0 {
		what = fmt.Sprintf("%d of its %s", c.Containers-c.Left, count(c.Containers, "container"))
	}
	return fmt.Sprintf("%s, %s would lie on %s. The cell would have %s.", text, what, spotsText(c.At), effortText(c.Effort))
}

// does says what is changed.
func (c Change) does(kind ChangeKind) string {
	switch kind {
	case ByUnpinning:
		return "With its pin taken off"
	case ByFlowSide:
		return fmt.Sprintf("With the %s of its container allowed along the lane", alongText(c.Side))
	case ByInterval:
		return fmt.Sprintf("With a refill interval of %s min", units.Minutes(c.Interval))
	case ByContainer:
		return fmt.Sprintf("In container %s, with %s in each", c.Container, count(c.Pack, "piece"))
	case ByClearHeight:
		return fmt.Sprintf("With %s more clear height on %s", c.By, c.Level.text())
	case ByLaneLength:
		return fmt.Sprintf("With lanes longer by %s on %s", c.By, c.Level.text())
	case ByRack:
		return c.rackText()
	}
	if len(c.Moved) == 0 {
		return "Laid by hand, with nothing else moved"
	}
	return fmt.Sprintf("With %s of %s moved (%s)", count(c.MovedContainers, "container"), loopsText(c.Moved), movesText(c.Edits, c.Moved))
}

func (c Change) rackText() string {
	text := fmt.Sprintf("With one rack of type %s more (%s of frontage", c.RackType, c.Width)
	if c.Beyond > 0 {
		text += fmt.Sprintf(", %s more than the cell has left", c.Beyond)
	}
	if c.Cost > 0 {
		text += fmt.Sprintf(", cost %s", c.Cost)
	}
	return text + ")"
}

// spotsText names levels, those of one rack together: "R1 level 2, R2 levels 3 and 4".
func spotsText(spots []Spot) string {
	var list []string
	for i := 0; i < len(spots); {
		var levels []string
		rack := spots[i].Rack
		for ; i < len(spots) && spots[i].Rack == rack; i++ {
			levels = append(levels, strconv.Itoa(spots[i].Level))
		}
		text := fmt.Sprintf("%s level %s", rack, levels[0])
		if last := len(levels) - 1; last > 0 {
			text = fmt.Sprintf("%s levels %s and %s", rack, strings.Join(levels[:last], ", "), levels[last])
		}
		list = append(list, text)
	}
	return strings.Join(list, ", ")
}
