package drawing

import (
	"fmt"
	"strconv"
	"strings"

	"lanewright/planner/routing"
)

// routes are the pages of the refill routes, their handlers, and of what no cell has:
// the findings about none.
func (r *reporter) routes() []leaf {
	columns := columnsOf(r.room, 2)
	wide := columns[0].width()
	var items []item
	if uses := r.whole.HandlerUses(); len(uses) > 0 {
		t := Table{Heading: []string{"handler", "vehicle", "routes", "busy"}, Right: []bool{false, false, false, true}}
		for _, u := range uses {
			t.add(u.Handler, string(u.Vehicle), strings.Join(u.Routes, ", "), percentText(u.Busy))
		}
		items = append(append(items, heading("Handlers: how much of their time rounds fill", wide)...), readSetting.table(t, wide)...)
		items = append(items, space(3))
	}
	for _, one := range r.Plan.Routes {
		items = append(items, r.route(one, wide)...)
	}
	if len(r.Plan.Unserved) > 0 {
		t := Table{Heading: []string{"rack", "why no round serves it"}, Right: []bool{false, false}}
		for _, u := range r.Plan.Unserved {
			t.add(string(u.Rack), u.Detail)
		}
		items = append(append(items, heading("Without a round", wide)...), readSetting.table(t, wide)...)
	}
	if list := findingTexts(r.byCell[""].findings); len(list) > 0 {
		items = append(append(items, heading("Findings about no cell", wide)...), readSetting.paragraphs(list, false, wide)...)
	}
	if len(items) == 0 {
		return nil
	}
	return flowed("refill routes", items, columns)
}

func percentText(share float64) string { return decimal(100*share, 0) + " %" }

// route is one route with its departures and stops.
func (r *reporter) route(one routing.Route, wide float64) []item {
	items := heading("Route "+one.Route, wide)
	texts := []string{fmt.Sprintf("Handler %s with %s from market %s, every %s. A round takes %s (%s of the interval) and %s m, with %s containers in the mean, planned for %s.",
		one.Handler, one.Vehicle, one.Market, minutesText(one.Interval), minutesText(one.Round), percentText(one.Busy()), decimal(one.Travel.Metres(), 0),
		decimal(one.LoadMean, 1), decimal(one.LoadPlanned, 1))}
	for _, s := range one.Timetable {
		times := make([]string, len(s.Departures))
		for i, t := range s.Departures {
			times[i] = clockTime(t)
		}
		text := "no departure"
		if len(times) > 0 {
			text = strings.Join(times, ", ")
		}
		texts = append(texts, fmt.Sprintf("Shift %s: %s", s.Shift, text))
	}
	items = append(items, readSetting.paragraphs(texts, false, wide)...)
	t := Table{Heading: []string{"stop", "rack", "aisle point", "after, min", "containers", "empties"}, Right: []bool{true, false, false, true, true, true}}
	for i, s := range one.Stops {
		t.add(strconv.Itoa(i+1), string(s.Rack), string(s.Point), decimal(s.Arrive.Minutes(), 1), decimal(s.Containers, 2), decimal(s.Empties, 2))
	}
	return append(append(items, readSetting.table(t, wide)...), space(4))
}
