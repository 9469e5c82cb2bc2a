package storage

import "lanewright/planner/plant"

// writePlant writes every list of a plant's facts.
func writePlant(w *writer, p *plant.Plant) {
	writeAll(w, "settings", settingsColumns, []plant.Settings{p.Settings})
	writeAll(w, "columns", columnColumns, p.Columns)
	writeAll(w, "shifts", shiftColumns, p.Shifts)
	write(w, "breaks", childOf(breakColumns), children(p.Shifts, breaksOf))
	writeAll(w, "products", productColumns, p.Products)
	writeAll(w, "usage", usageColumns, p.Usage)
	writeAll(w, "history", historyColumns, p.History)
	writeAll(w, "parts", partColumns, p.Parts)
	writeAll(w, "containers", containerColumns, p.Containers)
	writeAll(w, "cells", cellColumns, p.Cells)
	writeAll(w, "stations", stationColumns, p.Stations)
	writeRackTypes(w, p.RackTypes)
	writeAll(w, "racks", rackColumns, p.Racks)
	write(w, "fixed_lanes", childOf(fixedLanesColumns), children(p.Racks, fixedLanesOf))
	writeAll(w, "aisle_points", aislePointColumns, p.AislePoints)
	writeAll(w, "aisles", aisleColumns, p.Aisles)
	writeAll(w, "vehicles", vehicleColumns, p.Vehicles)
	writeAll(w, "current_lanes", currentLaneColumns, p.Current)
	writeAll(w, "pins", pinColumns, p.Pins)
	writeAll(w, "kits", kitColumns, p.Kits)
	write(w, "kit_parts", childOf(kitPartColumns), children(p.Kits, partsOf))
	writeAll(w, "stock_on_hand", stockColumns, p.StockOnHand)
	writeAll(w, "turns", turnColumns, p.Turns)
	writeAll(w, "current_stops", currentStopColumns, p.CurrentRoutes)
	writeAll(w, "route_rules", routeRuleColumns, p.RouteRules)
}

// readPlant reads what writePlant wrote, all but the plant's name.
func readPlant(r *reader) *plant.Plant {
	p := &plant.Plant{
		Columns:     read(r, "columns", columnColumns),
		Shifts:      read(r, "shifts", shiftColumns),
		Products:    read(r, "products", productColumns),
		Usage:       read(r, "usage", usageColumns),
		History:     read(r, "history", historyColumns),
		Parts:       read(r, "parts", partColumns),
		Containers:  read(r, "containers", containerColumns),
		Cells:       read(r, "cells", cellColumns),
		Stations:    read(r, "stations", stationColumns),
		RackTypes:   readRackTypes(r),
		Racks:       read(r, "racks", rackColumns),
		AislePoints: read(r, "aisle_points", aislePointColumns),
		Aisles:      read(r, "aisles", aisleColumns),
		Vehicles:    read(r, "vehicles", vehicleColumns),
		Current:     read(r, "current_lanes", currentLaneColumns),
		Pins:        read(r, "pins", pinColumns),
		Kits:        read(r, "kits", kitColumns),
		StockOnHand: read(r, "stock_on_hand", stockColumns),
		Turns:       read(r, "turns", turnColumns),

		CurrentRoutes: read(r, "current_stops", currentStopColumns),
		RouteRules:    read(r, "route_rules", routeRuleColumns),
	}
	for _, s := range read(r, "settings", settingsColumns) {
		p.Settings = s
	}
	adopt(p.Shifts, read(r, "breaks", childOf(breakColumns)), breaksOf)
	adopt(p.Kits, read(r, "kit_parts", childOf(kitPartColumns)), partsOf)
	adopt(p.Racks, read(r, "fixed_lanes", childOf(fixedLanesColumns)), fixedLanesOf)
	return p
}

func columnColumns(c *plant.Column) []column {
	return []column{
		{"file", &c.File}, {"sheet", &c.Sheet}, {"field", &c.Field},
		{"letters", &c.Letters}, {"heading", &c.Heading},
	}
}
