package importers

import (
	"fmt"

	"lanewright/planner/finding"
	"lanewright/planner/plant"
)

func (j *joiner) joinContainers() {
	for _, f := range j.rd.facts.containers {
		c := f.v
		if code, ok := j.enter(j.containers, f.row, "Container", "", string(c.Container)); ok {
			c.Container = plant.ContainerCode(code)
			j.addContainer(c)
		}
	}
}

func (j *joiner) addContainer(c plant.Container) {
	j.containerAt[c.Container] = len(j.plant.Containers)
	j.plant.Containers = append(j.plant.Containers, c)
}

func (j *joiner) joinParts() {
	for _, f := range j.rd.facts.parts {
		p := f.v
		if f.row.state != reported {
			code, _ := j.ref(j.containers, f.row, "Container", "", string(p.Container), CodeUnknownContainer)
			p.Container = plant.ContainerCode(code)
		}
		if code, ok := j.enter(j.parts, f.row, "Part", "", string(p.Part)); ok {
			p.Part = plant.PartCode(code)
			j.addPart(p)
		}
	}
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
	for _, f := range j.rd.facts.products {
		p := f.v
		if f.row.state != reported {
			code, _ := j.optionalRef(j.cells, f.row, "Cell", "", string(p.Cell), CodeProductCell)
			p.Cell = plant.CellCode(code)
		}
		if code, ok := j.enter(j.products, f.row, "Product", "", string(p.Product)); ok {
			p.Product = plant.ProductCode(code)
			j.plant.Products = append(j.plant.Products, p)
		}
	}
}

func (j *joiner) joinUsage() {
	for _, f := range j.rd.facts.usage {
		j.use(f.v, f.row)
	}
}

// use adds one row of use. Rows that say the same are both used, for rows of
// one product, part and station add up.
func (j *joiner) use(u plant.Usage, r *row) {
	if r.state == reported {
		return
	}
	part, ok := j.ref(j.parts, r, "Part", "", string(u.Part), CodeUsagePart)
	if !ok {
		return
	}
	product, ok := j.optionalRef(j.products, r, "Product", "", string(u.Product), CodeUsageProduct)
	if !ok {
		return
	}
	cell, station, ok := j.stationRef(r, string(u.Cell), string(u.Station))
	if !ok {
		return
	}
	u.Part, u.Product, u.Cell, u.Station = plant.PartCode(part), plant.ProductCode(product), cell, station
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

// stationRef resolves a station in its cell.
func (j *joiner) stationRef(r *row, cell, station string) (plant.CellCode, plant.StationCode, bool) {
	c, ok := j.ref(j.cells, r, "Cell", "", cell, CodeUsageCell)
	if !ok {
		return "", "", false
	}
	s, ok := j.ref(j.stations, r, "Station", c, station, CodeUsageStation)
	return plant.CellCode(c), plant.StationCode(s), ok
}

// joinHistory resolves what was built or used. A row about something unknown
// is reported and left out; the plan can do without it.
func (j *joiner) joinHistory() {
	for _, f := range j.rd.facts.history {
		h := f.v
		if f.row.state == reported {
			continue
		}
		book, field, raw := j.parts, "Part", string(h.Part)
		if f.row.given("Product") {
			book, field, raw = j.products, "Product", string(h.Product)
		}
		code, ok := j.weakRef(book, f.row, field, "", raw, CodeHistoryUnknown)
		if !ok || j.repeats(f.row) {
			continue
		}
		h.Part, h.Product = plant.PartCode(code), ""
		if field == "Product" {
			h.Part, h.Product = "", plant.ProductCode(code)
		}
		f.row.state = used
		j.plant.History = append(j.plant.History, h)
	}
}
