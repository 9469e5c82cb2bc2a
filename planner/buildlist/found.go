package buildlist

import (
	"fmt"
	"strings"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/structure"
	"lanewright/planner/units"
)

// Codes of the findings of this stage.
const (
	CodeJoints   = "buildlist.no-joints"
	CodeSupport  = "buildlist.no-support"
	CodeUncover  = "buildlist.length-unknown"
	CodeHoleEnd  = "buildlist.hole-near-end"
	CodeNarrow   = "buildlist.lane-narrowed"
	CodeStruck   = "buildlist.guide-at-upright"
	CodeLoose    = "buildlist.joint-between-tubes"
	CodeTooLong  = "buildlist.longer-than-stock"
	CodeStore    = "buildlist.store-not-needed"
	CodeUnpriced = "buildlist.price-unknown"
)

// about is a finding about the rack's kit.
func (m *maker) about(code string, s finding.Severity) finding.Finding {
	return finding.Finding{
		Severity: s, Code: code, Origin: m.f.Kit.Origin,
		Subject: finding.Subject{Rack: string(m.l.Rack), RackType: string(m.f.Type.RackType)},
	}
}

// joints reports a kit with nothing that holds tubes together.
func (m *maker) joints() {
	for i := range m.f.Kit.Parts {
		if joins(&m.f.Kit.Parts[i]) {
			return
		}
	}
	f := m.about(CodeJoints, finding.Warning)
	f.Summary = fmt.Sprintf("Kit %s has no connector or fastener for the %d joints of rack %s", m.f.Kit.Kit, len(m.f.Joints), m.l.Rack)
	f.Detail = "Where the end of a tube meets the side of another something must hold the two. The build list counts so many of each connector and fastener as the kit gives per joint."
	f.Remedy = "Add the connectors and fasteners to the sheet Kit parts and give their count per joint."
	m.found = append(m.found, f)
}

// supports reports a rack that stands on nothing, or not on what it should.
func (m *maker) supports() {
	want := plant.FootPart
	if m.f.Type.OnCasters {
		want = plant.CasterPart
	}
	if len(m.f.Supports) > 0 && (m.f.Supports[0].Part.Kind == want || want == plant.FootPart) {
		return
	}
	f := m.about(CodeSupport, finding.Warning)
	f.Summary = fmt.Sprintf("Kit %s has no %s for rack %s", m.f.Kit.Kit, want, m.l.Rack)
	f.Detail = "Without feet the ends of the uprights stand on the floor and nothing levels the rack. A rack on casters needs one under each upright."
	f.Remedy = fmt.Sprintf("Add a %s with its height and mass limit to the sheet Kit parts.", want)
	m.found = append(m.found, f)
}

// unknownLength reports, once per part, what is laid along lanes and has no stock
// length.
func (m *maker) unknownLength(b structure.Member) {
	if m.told[b.Part.Part] {
		return
	}
	if m.told == nil {
		m.told = map[plant.KitPartCode]bool{}
	}
	m.told[b.Part.Part] = true
	f := m.about(CodeUncover, finding.Warning)
	f.Origin, f.Subject.Level = b.Part.Origin, b.Level
	f.Summary = fmt.Sprintf("%s %s of kit %s has no stock length to cover %s of lane on rack %s", b.Part.Kind, b.Part.Part, m.f.Kit.Kit, round(b.Cut), m.l.Rack)
	f.Detail = "The build list counts one piece for each lane, but nobody knows whether one is long enough, and no cut list can be made."
	f.Remedy = "List the lengths in which the part is bought in the sheet Kit parts."
	f.Measure = &finding.Measure{Value: b.Cut.MM(), Unit: "mm"}
	m.found = append(m.found, f)
}

// edge is the least distance of a hole's middle from a tube's end, in hole
// diameters: EN 1993-1-8, 2005, table 3.3 (from memory).
const edge = 1.2

// ends reports, once per tube and end, a hole that would tear out of it.
func (m *maker) ends(p Piece) {
	least := units.Length(edge * float64(m.f.Kit.HoleDiameter))
	for _, h := range p.Holes {
		if near := min(h.At, p.Length-h.At); near < least {
			m.nearEnd(p, h, near, least)
		}
	}
}

func (m *maker) nearEnd(p Piece, h Hole, near, least units.Length) {
	f := m.about(CodeHoleEnd, finding.Warning)
	f.Origin = m.f.Type.Origin
	f.Summary = fmt.Sprintf("The hole for %s is %s from the end of %s %s of rack %s", strings.Join(h.Meets, ", "), round(near), p.Role, p.Mark, m.l.Rack)
	f.Detail = fmt.Sprintf("A hole of %s should lie at least %s from the end of a tube, or it tears out.", round(m.f.Kit.HoleDiameter), round(least))
	f.Remedy = fmt.Sprintf("Move the level by %s or more, away from the end, or take a lower foot or a longer upright.", round(least-near))
	f.Measure = &finding.Measure{Value: near.MM(), Limit: least.MM(), Unit: "mm"}
	f.Source = "EN 1993-1-8, 2005, table 3.3 (from memory)"
	m.found = append(m.found, f)
}

// loose notes pieces of a roller track or guide that meet where no cross tube
// carries them.
func (m *maker) loose(b structure.Member, at units.Length) {
	f := m.about(CodeLoose, finding.Note)
	f.Origin, f.Subject.Level = b.Part.Origin, b.Level
	f.Summary = fmt.Sprintf("Two pieces of %s %s of rack %s meet %s from its first end, between two cross tubes", b.Role, b.Mark, m.l.Rack, round(at))
	f.Detail = fmt.Sprintf("The longest %s is %s, the lane takes %s. No cross tube lies where the pieces could meet without one more piece.", b.Part.Part, b.Part.Longest(), round(b.Cut))
	f.Remedy = fmt.Sprintf("Add a stock length of %s to the kit, put a cross tube under the joint, or tie the two pieces.", round(b.Cut))
	f.Measure = &finding.Measure{Value: b.Cut.MM(), Limit: b.Part.Longest().MM(), Unit: "mm"}
	m.found = append(m.found, f)
}

// Prices notes what the kits do not price: a cost without it is partial.
func Prices(buys []Buy) finding.List {
	var codes []string
	for _, b := range buys {
		if !b.Priced() {
			codes = append(codes, string(b.Part.Part))
		}
	}
	if len(codes) == 0 {
		return nil
	}
	how := "is that of the other parts only"
	if len(codes) == len(buys) {
		how = "is not known"
	}
	return finding.List{{
		Severity: finding.Note, Code: CodeUnpriced,
		Summary: fmt.Sprintf("%d of %d parts have no price, so the cost of the build list %s: %s", len(codes), len(buys), how, strings.Join(codes, ", ")),
		Detail:  "A price that is not known is not 0. What is bought in lengths needs a price per metre, what is bought by the piece one of a piece.",
		Remedy:  "Fill in the prices in the sheet Kit parts.",
		Measure: &finding.Measure{Value: float64(len(codes)), Unit: "parts"},
	}}
}

// tooLong reports pieces that no stock length of their part is long enough for.
func tooLong(kit plant.KitCode, p *plant.KitPart, pieces []Cut) finding.Finding {
	longest := pieces[0]
	for _, c := range pieces {
		if c.Length > longest.Length {
			longest = c
		}
	}
	return finding.Finding{
		Severity: finding.Warning, Code: CodeTooLong, Origin: p.Origin, Subject: finding.Subject{Rack: string(longest.Rack)},
		Summary: fmt.Sprintf("%d pieces are longer than any %s of kit %s: %s of rack %s takes %s of at most %s", len(pieces), p.Part, kit, longest.Mark, longest.Rack, round(longest.Length), p.Longest()),
		Detail:  "They are not in the cut list. A tube of a rack is one piece: a spliced one is weak where it is joined.",
		Remedy:  fmt.Sprintf("Add a stock length of at least %s to the kit, or make the racks smaller.", round(longest.Length)),
		Measure: &finding.Measure{Value: longest.Length.MM(), Limit: p.Longest().MM(), Unit: "mm"},
	}
}

// unneeded notes bars in the store of parts from which nothing is cut, once for
// each part in the order in which they are given.
func unneeded(jobs []*cutJob, store []Stock) (list finding.List) {
	known := map[plant.KitPartCode]bool{}
	var names []string
	for _, j := range jobs {
		known[j.part.Part] = true
		names = append(names, string(j.part.Part))
	}
	for _, s := range store {
		if s.Listed || known[s.Part] {
			continue
		}
		known[s.Part] = true
		list = append(list, finding.Finding{
			Severity: finding.Warning, Code: CodeStore,
			Summary: fmt.Sprintf("Bars of %s lie in the store, but nothing is cut from such a part", s.Part),
			Detail:  "Pieces are cut from: " + strings.Join(names, ", ") + ".",
			Remedy:  "Write the part as the kit does, capitals and spaces too.",
		})
	}
	return list
}
