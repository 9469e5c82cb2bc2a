package plant

import (
	"fmt"

	"lanewright/planner/finding"
)

// CodeUnknownReference says that a fact names something that the plant does not have.
const CodeUnknownReference = "facts.unknown-reference"

// references finds dangling codes. The importers leave such rows out and say
// so; here they are caught in facts from elsewhere.
func (c *checker) references() {
	x := c.x
	for _, p := range c.p.Parts {
		c.known(x.Containers[p.Container] != nil, p.Origin, "Container", "Part "+string(p.Part), "container", string(p.Container))
		c.known(p.LookAlike == "" || x.Parts[p.LookAlike] != nil, p.Origin, "Look-alike of", "Part "+string(p.Part), "part", string(p.LookAlike))
	}
	for _, p := range c.p.Products {
		c.known(p.Cell == "" || x.Cells[p.Cell] != nil, p.Origin, "Cell", "Product "+string(p.Product), "cell", string(p.Cell))
	}
	for _, u := range c.p.Usage {
		name := "Use of part " + string(u.Part)
		c.known(x.Parts[u.Part] != nil, u.Origin, "Part", name, "part", string(u.Part))
		c.known(u.Product == "" || x.Products[u.Product] != nil, u.Origin, "Product", name, "product", string(u.Product))
		c.known(x.Stations[StationKey{u.Cell, u.Station}] != nil, u.Origin, "Station", name, "station", string(u.Cell)+" "+string(u.Station))
	}
	for _, h := range c.p.History {
		c.known(h.Part == "" || x.Parts[h.Part] != nil, h.Origin, "Part", "History", "part", string(h.Part))
		c.known(h.Product == "" || x.Products[h.Product] != nil, h.Origin, "Product", "History", "product", string(h.Product))
	}
	c.referencesOfCells()
	c.referencesOfFloor()
	c.referencesOfTours()
}

func (c *checker) referencesOfCells() {
	x := c.x
	for _, s := range c.p.Stations {
		c.known(x.Cells[s.Cell] != nil, s.Origin, "Cell", "Station "+string(s.Station), "cell", string(s.Cell))
	}
	for _, cell := range c.p.Cells {
		name := "Cell " + string(cell.Cell)
		for _, s := range cell.Shifts {
			c.known(x.Shifts[s] != nil, cell.Origin, "Shifts", name, "shift", string(s))
		}
		for _, t := range cell.RackTypes {
			c.known(x.RackTypes[t] != nil, cell.Origin, "Rack types allowed", name, "rack type", string(t))
		}
		c.known(cell.NewRackPoint == "" || x.Points[cell.NewRackPoint] != nil, cell.Origin, "New rack aisle point", name, "aisle point", string(cell.NewRackPoint))
	}
	for _, r := range c.p.Racks {
		name := "Rack " + string(r.Rack)
		c.known(x.RackTypes[r.RackType] != nil, r.Origin, "Rack type", name, "rack type", string(r.RackType))
		c.known(x.Cells[r.Cell] != nil, r.Origin, "Cell", name, "cell", string(r.Cell))
		for _, s := range r.Stations {
			c.known(x.Stations[StationKey{r.Cell, s}] != nil, r.Origin, "Stations", name, "station", string(r.Cell)+" "+string(s))
		}
		c.known(r.AislePoint == "" || x.Points[r.AislePoint] != nil, r.Origin, "Aisle point", name, "aisle point", string(r.AislePoint))
	}
}

func (c *checker) referencesOfFloor() {
	x := c.x
	for _, a := range c.p.Aisles {
		name := fmt.Sprintf("Aisle %s to %s", a.From, a.To)
		c.known(x.Points[a.From] != nil, a.Origin, "From", name, "aisle point", string(a.From))
		c.known(x.Points[a.To] != nil, a.Origin, "To", name, "aisle point", string(a.To))
	}
	for _, v := range c.p.Vehicles {
		c.known(v.From == "" || x.Points[v.From] != nil, v.Origin, "From market", "Vehicle type "+string(v.Vehicle), "aisle point", string(v.From))
		c.known(v.Parking == "" || x.Points[v.Parking] != nil, v.Origin, "Parking", "Vehicle type "+string(v.Vehicle), "aisle point", string(v.Parking))
	}
	for _, l := range c.p.Current {
		c.known(x.Racks[l.Rack] != nil, l.Origin, "Rack", "Current layout", "rack", string(l.Rack))
		c.known(x.Parts[l.Part] != nil, l.Origin, "Part", "Current layout", "part", string(l.Part))
	}
	for _, p := range c.p.Pins {
		c.known(x.Parts[p.Part] != nil, p.Origin, "Part", "Pin", "part", string(p.Part))
		c.known(x.Racks[p.Rack] != nil, p.Origin, "Rack", "Pin", "rack", string(p.Rack))
	}
}

func (c *checker) referencesOfTours() {
	x := c.x
	point := func(t Turn, field string, p PointCode) {
		c.known(p == "" || x.Points[p] != nil, t.Origin, field, "Turn at "+string(t.At), "aisle point", string(p))
	}
	for _, t := range c.p.Turns {
		point(t, "From point", t.From)
		point(t, "At point", t.At)
		point(t, "To point", t.To)
	}
	for _, s := range c.p.CurrentRoutes {
		name := "Route " + string(s.Route)
		c.known(x.Racks[s.Rack] != nil, s.Origin, "Rack", name, "rack", string(s.Rack))
		c.known(s.Vehicle == "" || x.Vehicles[s.Vehicle] != nil, s.Origin, "Vehicle type", name, "vehicle type", string(s.Vehicle))
	}
	for _, r := range c.p.RouteRules {
		c.known(r.Rack == "" || x.Racks[r.Rack] != nil, r.Origin, "Rack", "Rule", "rack", string(r.Rack))
		c.known(r.Other == "" || x.Racks[r.Other] != nil, r.Origin, "Other rack", "Rule", "rack", string(r.Other))
		c.known(r.From == "" || x.Points[r.From] != nil, r.Origin, "From", "Rule", "aisle point", string(r.From))
		c.known(r.To == "" || x.Points[r.To] != nil, r.Origin, "To", "Rule", "aisle point", string(r.To))
	}
}

func (c *checker) known(ok bool, o finding.Origin, field, name, kind, code string) {
	if ok {
		return
	}
	c.add(field, finding.Finding{
		Severity: finding.Error, Code: CodeUnknownReference, Origin: o,
		Summary: fmt.Sprintf("%s names %s %q, which the plant does not have", name, kind, code),
		Detail:  "Every code that a fact names must be defined once.",
		Remedy:  fmt.Sprintf("Add the %s, or correct the code.", kind),
	})
}
