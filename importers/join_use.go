package importers

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

func (j *joiner) joinContainers() {
	define(j, &j.rd.facts.containers, j.containers, "Container", func(c *plant.Container) *plant.ContainerCode { return &c.Container }, nil, j.addContainer)
}

func (j *joiner) addContainer(c plant.Container) {
	j.containerAt[c.Container] = len(j.plant.Containers)
	j.plant.Containers = append(j.plant.Containers, c)
}

func (j *joiner) joinParts() {
	j.rd.facts.parts.over(&j.plant.Parts)
	define(j, &j.rd.facts.parts, j.parts, "Part", func(p *plant.Part) *plant.PartCode { return &p.Part }, func(p *plant.Part, r *row) {
		named(j, j.containers, r, "Container", "", &p.Container, CodeUnknownContainer)
	}, j.addPart)
}

// addPart adds a part; its keep-apart group takes the first spelling.
func (j *joiner) addPart(p plant.Part) {
	if key := foldCode(p.KeepApart); key != "" {
		if _, ok := j.groups[key]; !ok {
			j.groups[key] = trim(p.KeepApart)
		}
		p.KeepApart = j.groups[key]
	} else {
		p.KeepApart = ""
	}
	j.partAt[p.Part] = len(j.plant.Parts)
	j.plant.Parts = append(j.plant.Parts, p)
}

// joinLookAlikes resolves the look-alikes once all parts are known. One that
// is unknown is left away: the part itself can still be planned.
func (j *joiner) joinLookAlikes() {
	for i := range j.plant.Parts {
		p := &j.plant.Parts[i]
		raw := string(p.LookAlike)
		if trim(raw) == "" {
			p.LookAlike = ""
			continue
		}
		r := j.parts.entries[scoped{"", foldCode(string(p.Part))}].row
		e := j.parts.find(r.may("Look-alike of"), "", raw)
		if e != nil && !e.out {
			p.LookAlike = plant.PartCode(e.code)
			continue
		}
		p.LookAlike = ""
		f := j.parts.unknown("", raw, e)
		f.Detail += " The part was used without its look-alike."
		r.warn(CodeUnknownLookAlike, "Look-alike of", f)
	}
}

func (j *joiner) joinProducts() {
	define(j, &j.rd.facts.products, j.products, "Product", func(p *plant.Product) *plant.ProductCode { return &p.Product }, func(p *plant.Product, r *row) {
		maybe(j, j.cells, r, "Cell", "", &p.Cell, CodeProductCell)
	}, into(&j.plant.Products))
}

func (j *joiner) joinUsage() {
	j.rd.facts.usage.over(&j.plant.Usage)
	for f := range j.rd.facts.usage.all() {
		j.use(f.v, f.row)
	}
}

// use adds one row of use. Rows that say the same are both used, for rows of
// one product, part and station add up.
func (j *joiner) use(u plant.Usage, r *row) {
	if r.state == reported {
		return
	}
	if !named(j, j.parts, r, "Part", "", &u.Part, CodeUsagePart) || !maybe(j, j.products, r, "Product", "", &u.Product, CodeUsageProduct) ||
		!named(j, j.cells, r, "Cell", "", &u.Cell, CodeUsageCell) || !named(j, j.stations, r, "Station", string(u.Cell), &u.Station, CodeUsageStation) {
		return
	}
	if first := j.earlier(r); first != nil {
		r.warn(CodeRepeatedRow, "", finding.Finding{
			Summary: fmt.Sprintf("Row %d of sheet %q says the same as row %d; both were counted", r.Number, r.t.sheet.Name, first.Number),
			Detail:  "Rows of one part and station add up, so a row that was copied by mistake doubles the use.",
			Remedy:  "Take one of the rows out if it is a copy.", Related: []finding.Origin{first.origin()},
		})
	}
	r.state = used
	j.plant.Usage = append(j.plant.Usage, u)
}

// joinHistory resolves what was built or used. A row about something unknown
// is reported and left out; the plan can do without it.
func (j *joiner) joinHistory() {
	j.rd.facts.history.over(&j.plant.History)
	settle(&j.rd.facts.history, func(h *plant.History, r *row) bool {
		if r.given("Product") {
			h.Part = ""
			return weakly(j, j.products, r, "Product", "", &h.Product, CodeHistoryUnknown) && !j.repeats(r)
		}
		h.Product = ""
		return weakly(j, j.parts, r, "Part", "", &h.Part, CodeHistoryUnknown) && !j.repeats(r)
	}, into(&j.plant.History))
}
