package plant

import (
	"fmt"
	"slices"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Check says what is wrong with the facts of p as they stand together: what
// contradicts itself, what can not work on the floor, and what somebody may
// have forgotten. It changes nothing. The importers call it after joining, so
// a dangling code has been left out and reported before; Check reports it for
// facts that came another way.
func Check(p *Plant) finding.List {
	c := &checker{p: p, x: NewIndex(p)}
	c.measures()
	c.references()
	c.parts()
	c.containers()
	c.usage()
	c.cells()
	c.shifts()
	c.rackTypes()
	c.kits()
	c.stock()
	c.racks()
	c.aisles()
	c.vehicles()
	c.pins()
	c.tours()
	c.found.Sort()
	return c.found
}

// checker gathers findings over one plant.
type checker struct {
	p     *Plant
	x     *Index
	found finding.List
}

// add notes f, with its origin narrowed to the column of field when there is
// one.
func (c *checker) add(field string, f finding.Finding) {
	if field != "" {
		f.Origin = c.p.At(f.Origin, field)
	}
	c.found = append(c.found, f)
}

// millimetres compares two lengths for a finding.
func millimetres(value, limit units.Length) *finding.Measure {
	return &finding.Measure{Value: value.MM(), Limit: limit.MM(), Unit: "mm"}
}

// CodeOutOfRange marks a measure that no thing can have.
const CodeOutOfRange = "facts.out-of-range"

// measures asserts the ranges that the types promise. The importers refuse
// such values cell by cell; here they are caught in facts from elsewhere.
func (c *checker) measures() {
	c.measuresOfSettings()
	for _, p := range c.p.Parts {
		c.promise(p.Origin, finding.Subject{Part: string(p.Part)}, "Part "+string(p.Part),
			must{p.Pack >= 1, "standard pack", "1 or more"}, must{p.PieceMass >= 0, "piece mass", "0 or more"})
	}
	for _, k := range c.p.Containers {
		c.promise(k.Origin, finding.Subject{Container: string(k.Container)}, "Container "+string(k.Container),
			must{k.Length > 0 && k.Width > 0 && k.Height > 0, "length, width and height", "above 0"},
			must{k.EmptyMass >= 0 && k.GrossLimit >= 0, "mass", "0 or more"}, must{share(k.Nests), "nesting", "above 0 and at most 1"})
	}
	c.measuresOfUse()
	c.measuresOfFloor()
	c.measuresOfKits()
}

// share reports whether 0 < r <= 1.
func share(r units.Ratio) bool { return r.Sign() > 0 && r.Cmp(units.Int(1)) <= 0 }

func (c *checker) measuresOfSettings() {
	s, p := c.p.Settings, c.p.Settings.Prices
	c.promise(s.Origin, finding.Subject{}, "Settings",
		must{s.Interval > 0, "refill interval", "above 0"},
		must{s.Response >= 0, "response time", "0 or more"},
		must{share(s.ServiceLevel) && !s.ServiceLevel.Equal(units.Int(1)), "service level", "above 0 % and below 100 %"},
		must{slices.Contains(ServiceMeasures(), s.Measure), "service measure", "cycle, year or fill"},
		must{s.ShortagesPerYear.Sign() > 0, "shortages per year", "above 0"},
		must{s.Safety.Sign() >= 0, "safety", "0 or more"},
		must{slices.Contains(HistoryUses(), s.History), "history decides", "empirical, variation or all"},
		must{s.SideClearance >= 0 && s.GuideWidth >= 0 && s.HandClearance >= 0 && s.RollerPitch >= 0, "clearance", "0 or more"},
		must{share(s.FillLimit) && share(s.LoadLimit) && share(s.BusyLimit), "limit", "above 0 % and at most 100 %"},
		must{s.WeeksPerYear.Sign() > 0 && s.WeeksPerYear.Cmp(units.Int(MostWeeks)) <= 0, "weeks per year", fmt.Sprintf("above 0 and at most %d", MostWeeks)},
		must{min(p.HandlerHour, p.VehicleYear, p.FloorYear) >= 0 && p.StockInterest.Sign() >= 0, "price", "0 or more"},
		must{p.RackYears.Sign() > 0, "rack life", "above 0"},
	)
}

func (c *checker) measuresOfUse() {
	one := units.Int(1)
	for _, p := range c.p.Products {
		c.promise(p.Origin, finding.Subject{Product: string(p.Product)}, "Product "+string(p.Product),
			must{p.UnitsPerDay.Sign() >= 0, "units per day", "0 or more"}, must{p.Variation.Sign() >= 0, "variation", "0 or more"})
	}
	for _, u := range c.p.Usage {
		c.promise(u.Origin, usageSubject(u), "Use of part "+string(u.Part),
			must{u.PerUnit.Sign() >= 0 && u.PerHour.Sign() >= 0 && u.PerDay.Sign() >= 0, "rate", "0 or more"},
			must{u.Variation.Sign() >= 0 && u.Scrap.Sign() >= 0, "variation and scrap", "0 or more"},
			must{u.Interval >= 0 && u.Response >= 0, "interval and response time", "0 or more"},
			must{u.ServiceLevel.Sign() >= 0 && u.ServiceLevel.Cmp(one) < 0, "service level", "below 100 %"},
			must{u.Containers >= 0, "containers", "0 or more"})
	}
	for _, h := range c.p.History {
		c.promise(h.Origin, finding.Subject{Part: string(h.Part), Product: string(h.Product)}, "History",
			must{h.Units.Sign() >= 0, "units", "0 or more"})
	}
}

func (c *checker) measuresOfFloor() {
	for _, t := range c.p.RackTypes {
		c.promise(t.Origin, finding.Subject{RackType: string(t.RackType)}, "Rack type "+string(t.RackType),
			must{t.Width > 0 && t.Depth > 0 && t.Height > 0, "width, depth and height", "above 0"},
			must{t.OwnMass >= 0 && t.MassLimit >= 0, "mass", "0 or more"})
		for _, l := range t.Levels {
			c.promise(l.Origin, levelSubject(t, l), fmt.Sprintf("Level %d of rack type %s", l.Level, t.RackType),
				must{l.Level >= 1, "level", "1 or more"},
				must{l.LaneLength > 0 && l.UsableWidth > 0 && l.ClearHeight > 0, "lane length, usable width and clear height", "above 0"},
				must{l.PickHeight >= 0 && l.MassLimit >= 0, "pick height and mass limit", "0 or more"})
		}
	}
	for _, a := range c.p.Aisles {
		c.promise(a.Origin, finding.Subject{Point: string(a.From)}, fmt.Sprintf("Aisle %s to %s", a.From, a.To),
			must{a.Length >= 0 && a.SpeedLimit >= 0, "length and speed limit", "0 or more"},
			must{slices.Contains([]Traffic{AllTraffic, OnlyDriven, OnlyWalkers}, a.Traffic), "traffic", "vehicles, people or blank"})
	}
	for _, a := range c.p.AislePoints {
		c.promise(a.Origin, finding.Subject{Point: string(a.Point)}, "Aisle point "+string(a.Point), must{a.Places >= 0, "places", "0 or more"})
	}
	c.measuresOfTours()
	for _, v := range c.p.Vehicles {
		c.promise(v.Origin, finding.Subject{Vehicle: string(v.Vehicle)}, "Vehicle type "+string(v.Vehicle),
			must{v.Count >= 0 && v.MassLimit >= 0, "count and mass limit", "0 or more"},
			must{v.Containers >= 1, "containers", "1 or more"}, must{v.Speed > 0, "speed", "above 0"},
			must{min(v.StopTime, v.LoadTime, v.UnloadTime, v.EmptyTime) >= 0, "times", "0 or more"})
	}
}

func (c *checker) measuresOfTours() {
	for _, s := range c.p.CurrentRoutes {
		c.promise(s.Origin, finding.Subject{Rack: string(s.Rack), Route: string(s.Route)}, "Route "+string(s.Route),
			must{s.Order >= 1, "order", "1 or more"}, must{s.Interval >= 0, "interval", "0 or more"})
	}
	for _, r := range c.p.RouteRules {
		c.promise(r.Origin, finding.Subject{Rack: string(r.Rack)}, "Rule",
			must{slices.Contains([]RuleKind{RulePin, RuleApart, RuleBefore, RuleClosed}, r.Kind), "rule", "pin, apart, before or closed"})
	}
}

// must is one promise about a fact: ok, what it is about, what it should be.
type must struct {
	ok             bool
	what, expected string
}

func (c *checker) promise(o finding.Origin, s finding.Subject, name string, promises ...must) {
	for _, m := range promises {
		if m.ok {
			continue
		}
		c.add("", finding.Finding{
			Severity: finding.Error, Code: CodeOutOfRange, Origin: o, Subject: s,
			Summary: fmt.Sprintf("%s: %s must be %s", name, m.what, m.expected),
			Detail:  "No plan can be computed from a measure that nothing can have.",
			Remedy:  "Correct the value.",
		})
	}
}

func usageSubject(u Usage) finding.Subject {
	return finding.Subject{Part: string(u.Part), Product: string(u.Product), Cell: string(u.Cell), Station: string(u.Station)}
}

func levelSubject(t RackType, l Level) finding.Subject {
	return finding.Subject{RackType: string(t.RackType), Level: l.Level}
}
