package importers

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lanewright/importers/column"
	"lanewright/importers/value"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of findings about the Plant sheet.
const (
	CodeSettingUnknown  = "settings.unknown"
	CodeSettingRepeated = "settings.repeated"
	CodePlantNoName     = "settings.no-name"
)

// settingsRows gives the slot of each setting, by canonical name.
type settingsRows map[string]slot

// readSettings reads the Plant sheets: units first, for other settings are
// read in them.
func (rd *reading) readSettings() {
	rd.settings = settingsRows{}
	for _, t := range rd.tables {
		if t.kind.Name == column.Plant && len(t.missing()) == 0 {
			rd.collectSettings(t)
		}
	}
	set := &rd.plant.Settings
	rd.setting("Length unit", func(s slot) { set.LengthUnit = orDefault(s.unitName("length"), set.LengthUnit) })
	rd.setting("Mass unit", func(s slot) { set.MassUnit = orDefault(s.unitName("mass"), set.MassUnit) })
	rd.setting("Plant name", func(s slot) { rd.plant.Name = s.text() })
	rd.setting("Time zone", func(s slot) { set.TimeZone = orDefault(s.timeZone(), set.TimeZone) })
	rd.readTimes(set)
	rd.readMeasures(set)
	rd.readService(set)
	rd.readPrices(set)
	if rd.plant.Name == "" {
		rd.plant.Name = rd.name
		rd.note(nil, CodePlantNoName, fmt.Sprintf("The plant is named %q after its file", rd.name), "No Plant sheet names it.", "Add the sheet Plant with the setting Plant name.")
	}
}

func (rd *reading) readTimes(set *plant.Settings) {
	rd.setting("Refill interval", func(s slot) { set.Interval = orDefault(s.interval(), set.Interval) })
	rd.setting("Response time", func(s slot) { set.Response = s.interval() })
	rd.setting("Service level", func(s slot) { set.ServiceLevel = orShare(s.chance(), set.ServiceLevel) })
	rd.setting("Safety", func(s slot) { set.Safety = s.surplus() })
	rd.setting("Interval choices", func(s slot) {
		if choices := s.intervals(); len(choices) > 0 {
			set.IntervalChoices = choices
		}
	})
}

func (rd *reading) readMeasures(set *plant.Settings) {
	length := func(name string, into *units.Length) {
		rd.setting(name, func(s slot) {
			if v := s.length(0, units.Metre, "a length from 0 to 1 m"); s.row.state != reported {
				*into = v
			}
		})
	}
	share := func(name string, into *units.Ratio) {
		rd.setting(name, func(s slot) { *into = orShare(s.share(), *into) })
	}
	length("Lane side clearance", &set.SideClearance)
	length("Guide width", &set.GuideWidth)
	length("Hand clearance", &set.HandClearance)
	length("Roller pitch", &set.RollerPitch)
	share("Fill limit of levels", &set.FillLimit)
	share("Load limit of a round", &set.LoadLimit)
	share("Busy limit of a handler", &set.BusyLimit)
	rd.setting("Random seed", func(s slot) {
		if v := s.whole(0, 1<<62); s.row.state != reported {
			set.Seed = uint64(v)
		}
	})
}

// readService reads what the service level promises and what the history
// decides.
func (rd *reading) readService(set *plant.Settings) {
	rd.setting("Service measure", func(s slot) {
		set.Measure = orDefault(choice(s, set.Measure,
			[]string{string(plant.ServicePerCycle), "per cycle", "cycle service level", "cycle service", "refill cycle"},
			[]string{string(plant.ServicePerYear), "per year", "shortages per year", "shortages a year", "stockouts per year"},
			[]string{string(plant.ServiceFillRate), "fill rate", "share of pieces"}), set.Measure)
	})
	rd.setting("Shortages per year", func(s slot) { set.ShortagesPerYear = orShare(s.above0(1000), set.ShortagesPerYear) })
	rd.setting("History decides", func(s slot) {
		set.History = orDefault(choice(s, set.History,
			[]string{string(plant.HistoryOnRequest), "empirical only", "on request", "nothing else"},
			[]string{string(plant.HistoryVariation), "variation only", "the variation"},
			[]string{string(plant.HistoryAll), "everything", "mean and variation"}), set.History)
	})
	rd.setting("Weeks per year", func(s slot) { set.WeeksPerYear = orShare(s.above0(plant.MostWeeks), set.WeeksPerYear) })
}

// readPrices reads what a plan costs.
func (rd *reading) readPrices(set *plant.Settings) {
	price := func(name string, into *units.Money) {
		rd.setting(name, func(s slot) { *into = s.money() })
	}
	p := &set.Prices
	price("Handler cost per hour", &p.HandlerHour)
	price("Vehicle cost per year", &p.VehicleYear)
	rd.setting("Rack life", func(s slot) { p.RackYears = orShare(s.years(), p.RackYears) })
	price("Floor cost per m2 and year", &p.FloorYear)
	rd.setting("Stock interest", func(s slot) { p.StockInterest = s.interest() })
}

// setting calls use with the slot of a setting that has a value.
func (rd *reading) setting(name string, use func(slot)) {
	if s, ok := rd.settings[name]; ok && !s.blank {
		use(s)
	}
}

func orDefault[T comparable](v, def T) T {
	var zero T
	if v == zero {
		return def
	}
	return v
}

func orShare(v, def units.Ratio) units.Ratio {
	if v.IsZero() {
		return def
	}
	return v
}

// collectSettings finds out which setting each row of t is.
func (rd *reading) collectSettings(t *table) {
	rd.plant.Settings.Origin = t.sheet.Origin(0, -1)
	all := column.Settings()
	lexicon := column.SettingsLexicon()
	for _, r := range t.rows {
		if r.skip() {
			continue
		}
		heading := r.may("Setting").cell.Text
		m := lexicon.Recognise([]string{heading}, splitHeading)
		r.state = used
		for field := range m.At {
			rd.collectSetting(r, all, field, m.Unit[field])
		}
		if len(m.At) == 0 {
			r.unknownSetting(heading, all)
		}
	}
}

func (rd *reading) collectSetting(r *row, all column.Sheet, field, unit string) {
	s := r.may("Value")
	s.field, s.unit = field, unit
	c, _ := all.Column(field)
	s.base = c.Unit
	if first, ok := rd.settings[field]; ok {
		r.state = reported
		f := finding.Finding{
			Severity: finding.Warning, Code: CodeSettingRepeated, Origin: s.origin(), Related: []finding.Origin{first.origin()},
			Summary: fmt.Sprintf("Setting %s stands twice with the same value %q", field, s.cell.Text),
			Detail:  "The first one was used.", Remedy: "Take one of the rows out.",
		}
		if trim(first.cell.Text) != trim(s.cell.Text) {
			f.Severity = finding.Error
			f.Summary = fmt.Sprintf("Setting %s stands twice, as %q and as %q", field, first.cell.Text, s.cell.Text)
			f.Detail = "Which of the two holds can not be known."
		}
		rd.say(f)
		return
	}
	rd.settings[field] = s
}

func (r *row) unknownSetting(heading string, all column.Sheet) {
	var names []string
	for _, c := range all.Columns {
		names = append(names, c.Field)
	}
	remedy := "Use one of: " + strings.Join(names, ", ") + "."
	name, _ := splitHeading(heading)
	if near, ok := column.Nearest(name, names); ok {
		remedy = fmt.Sprintf("Did you mean %q? ", near) + remedy
	}
	r.state = reported
	r.t.rd.say(finding.Finding{
		Severity: finding.Warning, Code: CodeSettingUnknown, Origin: r.may("Setting").origin(),
		Summary: fmt.Sprintf("Setting %q is not known", trim(heading)),
		Detail:  "It changes nothing in the plan.", Remedy: remedy,
	})
}

// unitName checks a name of a unit by reading 1 in it.
func (s slot) unitName(kind string) string {
	return read(s, func() (string, error) {
		name := trim(s.cell.Text)
		one := s.cell
		one.Text, one.Raw, one.Number = "1 "+name, "", false
		var err error
		switch kind {
		case "length":
			_, err = value.Length(one, "", "", s.row.t.marks)
		default:
			_, err = value.Mass(one, "", "", s.row.t.marks)
		}
		if err != nil {
			return "", value.Problem{Expected: "a unit of " + kind, Remedy: "Use mm, cm, m, in or ft for lengths; g, kg, t, oz or lb for masses.", Found: name}
		}
		return name, nil
	}, anything[string], "")
}

func (s slot) timeZone() string {
	return read(s, func() (string, error) {
		name := trim(s.cell.Text)
		if _, err := time.LoadLocation(name); err != nil || name == "" || name == "Local" {
			return "", value.Problem{Expected: "the IANA name of a time zone", Remedy: "Write it like Europe/Berlin, America/Chicago or UTC.", Found: name}
		}
		return name, nil
	}, anything[string], "")
}

// intervals reads "15, 20, 30" in rising order, each once.
func (s slot) intervals() []time.Duration {
	texts, marks, ok := []string{s.cell.Text}, s.row.t.marks, true
	if !s.cell.Number {
		texts, marks, ok = splitNumbers(s.cell.Text, marks)
	}
	if !ok {
		s.unreadable(value.Problem{Expected: "times with a space behind each comma; here " + doubtfulCommas, Remedy: "Write 15, 20, 30 or 15; 20; 30.", Found: s.cell.Text})
		return nil
	}
	var list []time.Duration
	for _, text := range texts {
		if text == "" {
			continue
		}
		one := s
		one.cell.Text = text
		if v := one.intervalWith(marks); v > 0 {
			list = append(list, v)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}
