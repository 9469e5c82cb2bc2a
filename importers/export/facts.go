package export

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// shiftRows gives a shift one row, or one for each of its breaks.
func shiftRows(s plant.Shift) [][]any {
	head := []any{string(s.Shift), days(s.Days), clock(s.Start), clock(s.End)}
	if len(s.Breaks) == 0 {
		return [][]any{append(head, nil, nil)}
	}
	var rows [][]any
	for _, b := range s.Breaks {
		row := append(append([]any{}, head...), clock(b.Start), units.Minutes(b.Length))
		rows = append(rows, row)
	}
	return rows
}

// days lists weekdays from Monday: "Mon,Tue,Wed".
func days(on [7]bool) string {
	var names []string
	for i := 1; i <= 7; i++ {
		if day := time.Weekday(i % 7); on[day] {
			names = append(names, day.String()[:3])
		}
	}
	return strings.Join(names, ",")
}

// clock is a time of day, "06:00", or "06:00:30" where seconds matter.
func clock(d time.Duration) string {
	at := time.Time{}.Add(d)
	if d%time.Minute == 0 {
		return at.Format("15:04")
	}
	return at.Format(time.TimeOnly)
}

func productRow(p plant.Product) []any {
	return []any{string(p.Product), text(p.Description), p.UnitsPerDay, p.Variation, text(string(p.Cell))}
}

func usageRow(u plant.Usage) []any {
	var quantity, safety any
	if u.Product != "" {
		quantity = u.PerUnit
	}
	if u.Safety != nil {
		safety = percent(*u.Safety)
	}
	hourly := positive(u.PerHour)
	if u.Product == "" && u.PerDay.IsZero() {
		hourly = u.PerHour
	}
	return []any{
		text(string(u.Product)), string(u.Part), string(u.Cell), string(u.Station), quantity,
		positive(percent(u.Scrap)), hourly, positive(u.Variation), minutes(u.Interval), minutes(u.Response),
		positive(percent(u.ServiceLevel)), safety, text(string(u.Model)), count(u.Containers),
	}
}

func historyRow(h plant.History) []any {
	return []any{text(string(h.Product)), text(string(h.Part)), h.Date, h.Units}
}

func partRow(p plant.Part) []any {
	hands := "one"
	if p.TwoHands {
		hands = "two"
	}
	return []any{
		string(p.Part), text(p.Description), mass(p.PieceMass), string(p.Container), p.Pack,
		text(p.MarketAddress), money(p.UnitCost), hands, text(p.KeepApart), text(string(p.LookAlike)),
	}
}

func containerRow(c plant.Container) []any {
	return []any{
		string(c.Container), text(c.Description), millimetres(c.Length), millimetres(c.Width), millimetres(c.Height),
		mass(c.EmptyMass), mass(c.GrossLimit), yesNo(c.Returnable), string(c.FlowSide), string(c.Handles), c.Nests,
	}
}

func cellRow(c plant.Cell) []any {
	x, y := place(c.NewRack)
	return []any{
		string(c.Cell), text(c.Name), text(c.Area), codes(c.Shifts), length(c.Frontage), codes(c.RackTypes),
		x, y, text(string(c.NewRackPoint)),
	}
}

func stationRow(s plant.Station) []any {
	x, y := place(s.Place)
	return []any{string(s.Station), string(s.Cell), x, y, metres(s.WalkLimit)}
}

func rackTypeRow(t plant.RackType) []any {
	return []any{
		string(t.RackType), millimetres(t.Width), millimetres(t.Depth), millimetres(t.Height),
		mass(t.OwnMass), mass(t.MassLimit), money(t.Cost), yesNo(t.OnCasters), text(string(t.Kit)),
	}
}

func levelRows(t plant.RackType) [][]any {
	return one(t.Levels, func(l plant.Level) []any {
		return []any{
			string(t.RackType), l.Level, string(l.Kind), millimetres(l.PickHeight), millimetres(l.Drop),
			millimetres(l.LaneLength), millimetres(l.UsableWidth), millimetres(l.ClearHeight), mass(l.MassLimit),
		}
	})
}

func rackRow(r plant.Rack) []any {
	x, y := place(r.Place)
	return []any{
		string(r.Rack), string(r.RackType), string(r.Cell), codes(r.Stations), x, y,
		string(r.AislePoint), text(fixedLanes(r.FixedLanes)),
	}
}

// fixedLanes writes "1: 416, 416, 320; 2: 317, 317" in millimetres.
func fixedLanes(levels []plant.FixedLanes) string {
	var parts []string
	for _, level := range levels {
		var widths []string
		for _, w := range level.Widths {
			widths = append(widths, millimetres(w).String())
		}
		parts = append(parts, fmt.Sprintf("%d: %s", level.Level, strings.Join(widths, ", ")))
	}
	return strings.Join(parts, "; ")
}

func pointRow(p plant.AislePoint) []any {
	return []any{string(p.Point), metres(p.Place.X), metres(p.Place.Y), string(p.Kind), count(p.Places)}
}

func aisleRow(a plant.Aisle) []any {
	var far any
	if a.Length > 0 {
		far = metres(a.Length)
	}
	return []any{string(a.From), string(a.To), far, yesNo(a.OneWay), speed(a.SpeedLimit), text(string(a.Traffic)), yesNo(a.SingleFile), yesNo(!a.NoTurning)}
}

func vehicleRow(v plant.Vehicle) []any {
	return []any{
		string(v.Vehicle), v.Count, v.Containers, mass(v.MassLimit), speed(v.Speed),
		seconds(v.StopTime), seconds(v.LoadTime), seconds(v.UnloadTime), seconds(v.EmptyTime), text(string(v.From)),
		yesNo(v.OnFoot), text(string(v.Parking)),
	}
}

func currentRow(c plant.CurrentLane) []any {
	return []any{string(c.Rack), c.Level, c.Lane, string(c.Part), text(string(c.Station)), count(c.Containers)}
}

func pinRow(p plant.Pin) []any {
	return []any{string(p.Part), text(string(p.Station)), string(p.Rack), count(p.Level), count(p.Lane), text(p.Reason)}
}

func kitRow(k plant.Kit) []any {
	return []any{
		string(k.Kit), text(k.Description), length(k.CutStep), length(k.Kerf), length(k.HolePitch), length(k.FirstHole),
		length(k.HoleDiameter), string(k.HoleWalls), k.RollersUnder, length(k.SideClearance), percent(k.ReturnSlope), millimetres(k.CentreSupport),
	}
}

func kitPartRows(k plant.Kit) [][]any {
	return one(k.Parts, func(p plant.KitPart) []any {
		return []any{
			string(k.Kit), string(p.Part), string(p.Kind), text(p.Description), codes(p.Uses), text(string(p.Shape)),
			length(p.Width), length(p.Height), length(p.Wall), length(p.CornerRadius), text(lengthList(p.StockLengths)), length(p.Pitch),
			mass(p.Mass), mass(p.MassPerMetre), money(p.Price), money(p.PricePerMetre), text(p.Material),
			stress(p.Yield, units.Megapascal), stress(p.Modulus, units.Gigapascal), mass(p.MassLimit), count(p.PerJoint),
		}
	})
}

func stockRow(s plant.StockBar) []any {
	return []any{string(s.Part), length(s.Length), s.Count, text(s.Place)}
}

// lengthList writes "3000, 6000" in millimetres.
func lengthList(list []units.Length) string {
	var texts []string
	for _, l := range list {
		texts = append(texts, millimetres(l).String())
	}
	return strings.Join(texts, ", ")
}

// stress leaves 0 blank.
func stress(s, unit units.Stress) any { return positive(units.R(int64(s), int64(unit))) }

func turnRow(t plant.Turn) []any {
	return []any{text(string(t.From)), string(t.At), text(string(t.To)), yesNo(t.Allowed)}
}

func currentStopRow(s plant.CurrentStop) []any {
	return []any{string(s.Route), s.Order, string(s.Rack), text(string(s.Vehicle)), minutes(s.Interval)}
}

func routeRuleRow(r plant.RouteRule) []any {
	return []any{
		string(r.Kind), text(string(r.Rack)), text(string(r.Other)), text(string(r.Route)),
		text(string(r.From)), text(string(r.To)), text(r.Reason),
	}
}

// place is a spot in metres, blank where it is not known.
func place(p *plant.Place) (x, y any) {
	if p == nil {
		return nil, nil
	}
	return metres(p.X), metres(p.Y)
}

func codes[T ~string](list []T) any {
	var names []string
	for _, c := range list {
		names = append(names, item(string(c)))
	}
	return text(strings.Join(names, ", "))
}

// item quotes a code that would fall apart in a list.
func item(code string) string {
	if strings.HasPrefix(code, `"`) || strings.ContainsAny(code, ",;\n") {
		return `"` + strings.ReplaceAll(code, `"`, `""`) + `"`
	}
	return code
}

func minuteList(list []time.Duration) any {
	var names []string
	for _, d := range list {
		names = append(names, units.Minutes(d).String())
	}
	return text(strings.Join(names, ", "))
}

// length, mass, money and speed leave 0 blank: it means that the sheet gave
// none.
func length(l units.Length) any { return positive(millimetres(l)) }

func mass(m units.Mass) any { return positive(kilograms(m)) }

func money(m units.Money) any { return positive(units.R(int64(m), int64(units.Unit))) }

func speed(v units.Speed) any { return positive(units.R(int64(v), int64(units.MetrePerSecond))) }

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// seedText is a seed as people read it out.
func seedText(seed uint64) string { return strconv.FormatUint(seed, 10) }
