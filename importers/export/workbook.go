package export

import (
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Template returns the blank plant workbook: every sheet and column, required
// ones marked, help on each; the Plant sheet lists its settings with their
// defaults and waits for the plant's name.
func Template() []Table {
	tables := Workbook(&plant.Plant{Settings: plant.DefaultSettings()})
	for i := range tables {
		if tables[i].Sheet != plantSheet.name {
			tables[i].Rows = nil
		}
	}
	return tables
}

// Workbook returns all facts of p in the canonical form of the plant
// workbook: lengths in mm, masses in kg, places in m, times in min or s, each
// unit in its header, every number exact. Reading it again gives the same
// facts.
func Workbook(p *plant.Plant) []Table {
	return []Table{
		plantSheet.table(settingRows(p)),
		shiftsSheet.table(each(p.Shifts, shiftRows)),
		productsSheet.table(one(p.Products, productRow)),
		usageTable(p.Usage),
		historySheet.table(one(p.History, historyRow)),
		partsSheet.table(one(p.Parts, partRow)),
		containersSheet.table(one(p.Containers, containerRow)),
		cellsSheet.table(one(p.Cells, cellRow)),
		stationsSheet.table(one(p.Stations, stationRow)),
		rackTypesSheet.table(one(p.RackTypes, rackTypeRow)),
		levelsSheet.table(each(p.RackTypes, levelRows)),
		racksSheet.table(one(p.Racks, rackRow)),
		pointsSheet.table(one(p.AislePoints, pointRow)),
		aislesSheet.table(one(p.Aisles, aisleRow)),
		vehiclesSheet.table(one(p.Vehicles, vehicleRow)),
		currentSheet.table(one(p.Current, currentRow)),
		pinsSheet.table(one(p.Pins, pinRow)),
		kitsSheet.table(one(p.Kits, kitRow)),
		kitPartsSheet.table(each(p.Kits, kitPartRows)),
		stockSheet.table(one(p.StockOnHand, stockRow)),
		turnsSheet.table(one(p.Turns, turnRow)),
		currentRoutesSheet.table(one(p.CurrentRoutes, currentStopRow)),
		routeRulesSheet.table(one(p.RouteRules, routeRuleRow)),
	}
}

// one makes one row of each fact, each makes several.
func one[T any](facts []T, row func(T) []any) [][]any {
	rows := make([][]any, 0, len(facts))
	for _, f := range facts {
		rows = append(rows, row(f))
	}
	return rows
}

func each[T any](facts []T, some func(T) [][]any) [][]any {
	var rows [][]any
	for _, f := range facts {
		rows = append(rows, some(f)...)
	}
	return rows
}

// settingRows lists the settings; those that hold their zero value where that
// means "none" stay blank.
func settingRows(p *plant.Plant) [][]any {
	s := p.Settings
	values := []any{
		text(p.Name), s.LengthUnit, s.MassUnit, s.TimeZone,
		minutes(s.Interval), minutes(s.Response), percent(s.ServiceLevel), string(s.Measure), s.ShortagesPerYear,
		percent(s.Safety), string(s.History), minuteList(s.IntervalChoices), millimetres(s.SideClearance), millimetres(s.GuideWidth), millimetres(s.HandClearance),
		percent(s.FillLimit), percent(s.LoadLimit), percent(s.BusyLimit),
		s.WeeksPerYear, money(s.Prices.HandlerHour), money(s.Prices.VehicleYear), s.Prices.RackYears,
		money(s.Prices.FloorYear), positive(percent(s.Prices.StockInterest)), s.Seed,
	}
	var rows [][]any
	for i, setting := range plantSettings {
		rows = append(rows, []any{setting.label(), values[i]})
	}
	if s.RollerPitch > 0 {
		rows = append(rows, []any{setting{"Roller pitch", "mm"}.label(), millimetres(s.RollerPitch)})
	}
	return rows
}

// usageTable adds the column of pieces per day only where a flat table brought
// such rows: the canonical sheet has none.
func usageTable(usage []plant.Usage) Table {
	t := usageSheet.table(one(usage, usageRow))
	daily := false
	for _, u := range usage {
		daily = daily || !u.PerDay.IsZero()
	}
	if !daily {
		return t
	}
	t.Header = append(t.Header, "Pieces per day")
	for i, u := range usage {
		t.Rows[i] = append(t.Rows[i], positive(u.PerDay))
	}
	return t
}

// text leaves an empty string blank.
func text(s string) any {
	if s == "" {
		return nil
	}
	return s
}

func count(n int) any {
	if n == 0 {
		return nil
	}
	return n
}

// positive leaves a ratio of 0 blank.
func positive(r units.Ratio) any {
	if r.IsZero() {
		return nil
	}
	return r
}

func percent(r units.Ratio) units.Ratio { return r.Mul(units.Int(100)) }

func millimetres(l units.Length) units.Ratio {
	return units.R(int64(l), int64(units.Millimetre))
}

func metres(l units.Length) units.Ratio { return units.R(int64(l), int64(units.Metre)) }

func kilograms(m units.Mass) units.Ratio { return units.R(int64(m), int64(units.Kilogram)) }

// minutes and seconds leave 0 blank.
func minutes(d time.Duration) any { return positive(units.Minutes(d)) }

func seconds(d time.Duration) any { return positive(units.R(int64(d), int64(time.Second))) }
