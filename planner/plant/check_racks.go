package plant

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/units"
)

// Codes of findings about rack types, their levels, and racks.
const (
	CodeNoLevels          = "rack-types.no-levels"
	CodeLevelTooWide      = "levels.wider-than-rack"
	CodeLaneTooLong       = "levels.longer-than-rack"
	CodeLevelAboveRack    = "levels.above-rack"
	CodeLevelsNotRising   = "levels.not-rising"
	CodeDropSign          = "levels.drop-sign"
	CodeFixedLanesTooWide = "racks.fixed-lanes-too-wide"
	CodeFixedLanesLevel   = "racks.fixed-lanes-unknown-level"
)

func (c *checker) rackTypes() {
	for _, t := range c.p.RackTypes {
		if len(t.Levels) == 0 {
			c.add("Rack type", finding.Finding{
				Severity: finding.Error, Code: CodeNoLevels, Origin: t.Origin, Subject: finding.Subject{RackType: string(t.RackType)},
				Summary: fmt.Sprintf("Rack type %s has no levels", t.RackType),
				Detail:  "A rack without levels has no lane to put a container in.",
				Remedy:  "Add its levels to the sheet Levels, one row each.",
			})
		}
		for i, l := range t.Levels {
			c.levelInRack(t, l)
			c.levelSlope(t, l)
			if i > 0 && l.PickHeight <= t.Levels[i-1].PickHeight {
				c.level("Pick height", finding.Warning, CodeLevelsNotRising, t, l, millimetres(l.PickHeight, t.Levels[i-1].PickHeight),
					fmt.Sprintf("has a pick height of %s, level %d below it has %s", l.PickHeight, t.Levels[i-1].Level, t.Levels[i-1].PickHeight),
					"Levels count from the lowest, so the pick heights should rise.", "Correct the numbers of the levels or their heights.")
			}
		}
	}
}

// levelInRack compares a level with the outside of its rack.
func (c *checker) levelInRack(t RackType, l Level) {
	if l.UsableWidth > t.Width {
		c.level("Usable width", finding.Error, CodeLevelTooWide, t, l, millimetres(l.UsableWidth, t.Width),
			fmt.Sprintf("is %s wide, the rack %s", l.UsableWidth, t.Width),
			"Lanes would stand outside the rack.", "Correct the usable width or the width of the rack, and check their units.")
	}
	if l.LaneLength > t.Depth {
		c.level("Lane length", finding.Warning, CodeLaneTooLong, t, l, millimetres(l.LaneLength, t.Depth),
			fmt.Sprintf("has lanes %s long, the rack is %s deep", l.LaneLength, t.Depth),
			"Lanes longer than the rack is deep stand out into the aisle.", "Correct the lane length or the depth of the rack.")
	}
	if top := max(l.PickHeight, l.LoadHeight()); top > t.Height {
		c.level("Pick height", finding.Warning, CodeLevelAboveRack, t, l, millimetres(top, t.Height),
			fmt.Sprintf("is %s high, the rack %s", top, t.Height),
			"A level can not be higher than its rack.", "Correct the height of the level or of the rack.")
	}
}

func (c *checker) levelSlope(t RackType, l Level) {
	if (l.Kind == Supply && l.Drop > 0) || (l.Kind == Return && l.Drop < 0) {
		return
	}
	expected := "positive: containers run from the load side to the pick side"
	if l.Kind == Return {
		expected = "negative: empties run from the pick side to the load side"
	}
	c.level("Drop", finding.Warning, CodeDropSign, t, l, nil,
		fmt.Sprintf("is a %s level with a drop of %s", l.Kind, l.Drop),
		"Drop is load edge minus pick edge. On a "+string(l.Kind)+" level it is "+expected+".", "Correct the drop or the kind of the level.")
}

func (c *checker) level(field string, s finding.Severity, code string, t RackType, l Level, m *finding.Measure, what, detail, remedy string) {
	c.add(field, finding.Finding{
		Severity: s, Code: code, Origin: l.Origin, Related: origins(t.Origin), Subject: levelSubject(t, l),
		Summary: fmt.Sprintf("Level %d of rack type %s %s", l.Level, t.RackType, what),
		Detail:  detail, Remedy: remedy, Measure: m,
	})
}

func origins(o finding.Origin) []finding.Origin {
	if o.IsZero() {
		return nil
	}
	return []finding.Origin{o}
}

func (c *checker) racks() {
	for _, r := range c.p.Racks {
		t := c.x.RackTypes[r.RackType]
		if t == nil {
			continue
		}
		for _, f := range r.FixedLanes {
			c.fixedLanes(r, *t, f)
		}
	}
}

// fixedLanes adds up the fixed lanes of one level with the guides between
// them (planning rules, section 3).
func (c *checker) fixedLanes(r Rack, t RackType, f FixedLanes) {
	subject := finding.Subject{Rack: string(r.Rack), RackType: string(t.RackType), Level: f.Level}
	l := t.level(f.Level)
	if l == nil {
		c.add("Fixed lanes", finding.Finding{
			Severity: finding.Error, Code: CodeFixedLanesLevel, Origin: r.Origin, Related: origins(t.Origin), Subject: subject,
			Summary: fmt.Sprintf("Rack %s has fixed lanes on level %d, which rack type %s does not have", r.Rack, f.Level, t.RackType),
			Detail:  "The lanes would be lost.", Remedy: "Correct the level, or the type of the rack.",
		})
		return
	}
	sum := c.p.Settings.GuideWidth * units.Length(max(len(f.Widths)-1, 0))
	for _, w := range f.Widths {
		sum += w
	}
	if sum > l.UsableWidth {
		c.add("Fixed lanes", finding.Finding{
			Severity: finding.Error, Code: CodeFixedLanesTooWide, Origin: r.Origin, Related: origins(c.p.At(l.Origin, "Usable width")), Subject: subject,
			Summary: fmt.Sprintf("The %d fixed lanes on level %d of rack %s need %s, the level has %s", len(f.Widths), f.Level, r.Rack, sum, l.UsableWidth),
			Detail:  fmt.Sprintf("The widths and the guides of %s between them are added up.", c.p.Settings.GuideWidth),
			Remedy:  "Correct the widths or their unit, the guide width, or the usable width of the level.",
			Measure: millimetres(sum, l.UsableWidth),
		})
	}
}

// level returns the level with that number, nil when there is none.
func (t *RackType) level(n int) *Level {
	for i := range t.Levels {
		if t.Levels[i].Level == n {
			return &t.Levels[i]
		}
	}
	return nil
}
