package structure

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Codes of findings about a rack type that its kit can not build as it is.
const (
	CodeKitLacks    = "structure.kit-lacks-part"
	CodeTubeTooLong = "structure.tube-longer-than-stock"
	CodeTooNarrow   = "structure.levels-wider-than-frame"
	CodeRollersWide = "structure.rollers-too-far-apart"
)

// subject names the rack type, and a level where it is not 0.
func subject(t *plant.RackType, level int) finding.Subject {
	return finding.Subject{RackType: string(t.RackType), Level: level}
}

// compare is a length against a limit, in millimetres.
func compare(value, limit units.Length) *finding.Measure {
	return &finding.Measure{Value: value.MM(), Limit: limit.MM(), Unit: "mm"}
}

func (b *builder) lacks(what string) {
	t, k := b.f.Type, b.f.Kit
	b.found = append(b.found, finding.Finding{
		Severity: finding.Warning, Code: CodeKitLacks, Origin: t.Origin, Subject: subject(t, 0),
		Summary: fmt.Sprintf("Rack type %s can not be built: kit %s has no %s", t.RackType, k.Kit, what),
		Detail:  "Every rack needs tubes, rollers, guides and stops of its kit.",
		Remedy:  "Add the part to the sheet Kit parts, or give the rack type another kit.",
	})
}

func (b *builder) tooNarrow() {
	t := b.f.Type
	b.found = append(b.found, finding.Finding{
		Severity: finding.Warning, Code: CodeTooNarrow, Origin: t.Origin, Subject: subject(t, 0),
		Summary: fmt.Sprintf("Rack type %s becomes %s wide with kit %s instead of %s", t.RackType, b.f.Width, b.f.Kit.Kit, t.Width),
		Detail:  fmt.Sprintf("Its levels are to be usable between uprights that take %s on each side.", b.side()),
		Remedy:  "Make the rack type wider, its usable widths smaller, or take a kit with narrower uprights.",
		Measure: compare(b.f.Width, t.Width),
	})
}

// stock reports, once per role, tubes longer than any the kit has.
func (b *builder) stock() {
	longest := map[Role]Member{}
	var roles []Role
	for _, m := range b.f.Members {
		if stock := m.Part.Longest(); !m.IsTube() || stock == 0 || m.Cut <= stock {
			continue
		}
		if _, ok := longest[m.Role]; !ok {
			roles = append(roles, m.Role)
		}
		if m.Cut > longest[m.Role].Cut {
			longest[m.Role] = m
		}
	}
	for _, r := range roles {
		b.tooLong(longest[r])
	}
	b.rollers()
}

func (b *builder) tooLong(m Member) {
	t := b.f.Type
	b.found = append(b.found, finding.Finding{
		Severity: finding.Warning, Code: CodeTubeTooLong, Origin: t.Origin, Subject: subject(t, m.Level),
		Summary: fmt.Sprintf("Rack type %s needs %s of %s, the longest %s of kit %s is %s", t.RackType, m.Role.one(), m.Cut, m.Part.Part, b.f.Kit.Kit, m.Part.Longest()),
		Detail:  "A tube of a rack is one piece: a spliced one is weak where it is joined.",
		Remedy:  fmt.Sprintf("Add a stock length of at least %s, make the rack smaller by %s, or part it into two.", m.Cut, m.Cut-m.Part.Longest()),
		Measure: compare(m.Cut, m.Part.Longest()),
	})
}

// one is the role with its article.
func (r Role) one() string {
	if r == Upright {
		return "an " + string(r)
	}
	return "a " + string(r)
}

// rollers reports levels whose shortest container would lie on too few.
func (b *builder) rollers() {
	t, n := b.f.Type, units.Length(b.f.Kit.RollersUnder)
	for _, d := range b.f.Decks {
		box := d.shortest()
		if box.IsZero() || n == 0 || d.RollerPitch*n <= box.Flow {
			continue
		}
		b.found = append(b.found, finding.Finding{
			Severity: finding.Warning, Code: CodeRollersWide, Origin: t.Origin, Subject: finding.Subject{RackType: string(t.RackType), Level: d.Level, Container: string(box.Container)},
			Summary: fmt.Sprintf("Level %d of rack type %s: rollers stand %s apart, container %s is %s long in its lane", d.Level, t.RackType, d.RollerPitch, box.Container, box.Flow),
			Detail:  fmt.Sprintf("The shortest container should lie on %d rollers, so they may stand at most %s apart.", n, box.Flow/n),
			Remedy:  fmt.Sprintf("Take rollers with a pitch of at most %s, or turn the container.", box.Flow/n),
			Measure: compare(d.RollerPitch, box.Flow/n), Source: "practice of makers, three sources agree",
		})
	}
}
