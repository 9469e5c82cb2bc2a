package drawing

import (
	"fmt"
	"io"
	"strings"

	"lanewright/planner"
	"lanewright/planner/demand"
	"lanewright/planner/placement"
)

// CardSheet is the sheet that loop cards are printed on and cut from: eight on a
// page of the paper of the plant's units.
func (p Papers) CardSheet() LabelSheet {
	if measure(p.Plan.Settings.Plant.LengthUnit).imperial() {
		return cardSheets[1]
	}
	return cardSheets[0]
}

// Cards writes loop cards, one for each container of each loop, in the order of the
// loops; the cards of a loop are dealt over its lanes as its containers lie in them.
// What cards are short of is returned in sentences. The error is a *TooManyError, or
// that of w.
func (p Papers) Cards(w io.Writer) (short []string, err error) {
	d := p.desk()
	n := 0
	for _, l := range d.Plan.Loops {
		n += l.Containers
	}
	if n > MostTags {
		return nil, &TooManyError{"cards", n, MostTags}
	}
	var tags []tag
	for i := range d.Plan.Loops {
		tags = append(tags, d.cards(&d.Plan.Loops[i])...)
	}
	return writeTags(w, p.CardSheet(), 0, "Loop cards", "cards", tags)
}

// cards are those of one loop.
func (d *desk) cards(l *planner.Loop) []tag {
	homes := d.homes(l.Key)
	from := "market"
	if at := d.market(l.Part); at != "" {
		from = "market " + at
	}
	list := make([]tag, l.Containers)
	for i := range list {
		to, code := "no lane yet", ""
		if i < len(homes) {
			to, code = homes[i], homes[i]
		}
		number := fmt.Sprintf("card %d of %d", i+1, l.Containers)
		list[i] = tag{
			big:  inLines(string(l.Part)),
			code: strings.Join([]string{string(l.Part), code, fmt.Sprintf("%d/%d", i+1, l.Containers)}, " "),
			lines: []tagLine{
				{text: d.description(l.Part), size: 4},
				{text: "to " + to, size: 6, bold: true, needed: true},
				{text: "from " + from, size: 4.4, needed: true},
				{text: joined(", ", "cell "+string(l.Cell), "station "+string(l.Station), routeText(l.Route)), size: 3.6},
				{text: fmt.Sprintf("%s, %s in each; %s", l.Container, counted(int(l.Pack), "piece"), number), size: 3.6, needed: true},
			},
		}
	}
	return list
}

func routeText(route string) string {
	if route == "" {
		return ""
	}
	return "route " + route
}

// homes are the addresses of a loop's containers, lane by lane.
func (d *desk) homes(k demand.Key) []string {
	var list []string
	for _, lane := range d.byLoop[k] {
		for range lane.Containers {
			list = append(list, placement.Spot{Rack: lane.Rack, Level: lane.Level, Lane: lane.Lane}.Address())
		}
	}
	return list
}
