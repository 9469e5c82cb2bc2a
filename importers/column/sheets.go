package column

// Names of the canonical sheets, and of the flat table.
const (
	Plant         = "Plant"
	Shifts        = "Shifts"
	Products      = "Products"
	Usage         = "Usage"
	History       = "History"
	Parts         = "Parts"
	Containers    = "Containers"
	Cells         = "Cells"
	Stations      = "Stations"
	RackTypes     = "Rack types"
	Levels        = "Levels"
	Racks         = "Racks"
	AislePoints   = "Aisle points"
	Aisles        = "Aisles"
	Vehicles      = "Vehicles"
	CurrentLayout = "Current layout"
	Pins          = "Pins"
	Kits          = "Kits"
	KitParts      = "Kit parts"
	StockOnHand   = "Stock on hand"
	Turns         = "Turns"
	CurrentRoutes = "Current routes"
	RouteRules    = "Route rules"
	Flat          = "Flat table"
)

// Columns that stand in more than one sheet.
var (
	part      = optional("Part", "Part number", "Part no", "Part nr", "Part code", "Part id", "P/N", "Item", "Item number", "Item no", "Item code", "Material", "Material number", "Component", "Article", "Article number", "SKU")
	container = optional("Container", "Container code", "Container type", "Container id", "Bin", "Bin type", "Bin code", "Tote", "Tote type", "Box", "Box type", "Carton", "Carton type", "Packaging", "Packaging code", "SLC", "Small load carrier", "Load carrier")
	cell      = optional("Cell", "Cell code", "Cell id", "Work cell", "Line", "Assembly line", "Production line", "Line code")
	station   = optional("Station", "Station code", "Station id", "Station no", "Workstation", "Point of use", "POU", "Operation", "Op")
	product   = optional("Product", "Product code", "Product number", "Model", "Finished good", "End item", "Assembly", "Parent")
	rackType  = optional("Rack type", "Type of rack", "Rack design", "Rack type code")
	rack      = optional("Rack", "Rack code", "Rack id", "Rack no", "Rack number", "Flow rack")
	level     = optional("Level", "Level no", "Level number", "Shelf", "Shelf level", "Tier")
	lane      = optional("Lane", "Lane no", "Lane number")
	describe  = optional("Description", "Desc", "Name", "Text", "Part description", "Item description", "Part name")
	length    = optional("Length", "Container length", "Bin length", "Outside length", "Length outside", "L")
	width     = optional("Width", "Container width", "Bin width", "Outside width", "Width outside", "W", "Container W", "Box W", "Bin W")
	height    = optional("Height", "Container height", "Bin height", "Outside height", "Height outside", "H", "Container H", "Box H", "Bin H")
	massLimit = optional("Mass limit", "Max mass", "Maximum mass", "Weight limit", "Max weight", "Load limit", "Max load", "Capacity mass")
	variation = optional("Variation", "Coefficient of variation", "CV", "Variation of demand", "Demand variation")
	x         = optional("X", "X coordinate", "X position", "Pos X").in("m")
	y         = optional("Y", "Y coordinate", "Y position", "Pos Y").in("m")
)

// Columns of a row of use beside what is used where.
var useColumns = []Column{
	optional("Quantity per unit", "Qty per unit", "Pieces per unit", "Quantity per product", "Qty per product", "Qty per assembly", "Usage quantity", "BOM quantity", "Qty/unit", "Pcs/unit", "Quantity", "Qty"),
	optional("Pieces per hour", "Pcs per hour", "Pcs/h", "Pieces/h", "Pcs/hr", "Pieces/hour", "Parts per hour", "Usage per hour", "Hourly usage", "Demand per hour", "Consumption per hour", "Rate per hour", "Qty per hour", "Qty/h", "Qty/hr", "Qty/hour", "Quantity per hour"),
	optional("Pieces per day", "Pcs per day", "Pcs/day", "Pieces/day", "Parts per day", "Usage per day", "Daily usage", "Demand per day", "Daily demand", "Consumption per day", "Qty per day", "Qty/day", "Quantity per day"),
	variation,
	optional("Scrap", "Scrap rate", "Scrap share", "Scrap percent", "Scrap factor"),
	optional("Refill interval", "Interval", "Replenishment interval", "Delivery interval", "Route interval").in("min"),
	optional("Response time", "Response", "Replenishment time").in("min"),
	optional("Service level", "Service"),
	optional("Safety", "Safety factor", "Safety allowance", "Policy variable"),
	optional("Demand model", "Model of demand"),
	optional("Containers", "Number of containers", "Fixed containers", "Containers in loop", "No of containers", "Kanbans", "Number of kanban", "Cards"),
}

// Columns of a part beside its code, container and pack.
var partColumns = []Column{
	describe,
	optional("Piece mass", "Piece weight", "Part weight", "Part mass", "Unit weight", "Unit mass", "Weight per piece", "Mass per piece", "Weight", "Mass"),
	optional("Standard pack", "Std pack", "Pack", "Pack size", "Pack qty", "Pack quantity", "Pieces per container", "Pcs per container", "Pieces per box", "Qty per box", "Qty/box", "Qty per container", "Qty/container", "Qty per bin", "Qty/bin", "Qty per pack", "Quantity per container", "Container quantity", "Container qty", "SNP", "SPQ", "Std qty", "Standard quantity", "Pieces per bin", "Pcs per bin", "Pieces per pack", "Pieces per tote", "Qty per tote", "Pack multiple", "Lot size per container", "Pcs/container", "Pcs/box").must(),
	optional("Market address", "Address", "Supermarket address", "Supermarket location", "Market location", "Storage location", "Storage bin"),
	optional("Unit cost", "Cost", "Piece cost", "Price", "Unit price"),
	optional("Pick hand", "Pick hands", "Hands"),
	optional("Keep apart", "Keep apart group", "Separation group"),
	optional("Look-alike of", "Look alike", "Looks like", "Similar to"),
}

// Columns of a container beside its code and measures.
var containerColumns = []Column{
	optional("Empty mass", "Empty weight", "Tare", "Tare weight", "Tare mass", "Container weight", "Container mass"),
	optional("Gross mass limit", "Gross weight limit", "Max gross weight", "Max gross mass", "Gross limit", "Container mass limit"),
	optional("Returnable", "Returns", "Reusable", "Return packaging"),
	optional("Flow side", "Side along the lane", "Orientation"),
	optional("Handles", "Handle", "Coupling", "Grip"),
	optional("Nests", "Nesting", "Nested height", "Nesting ratio"),
}

// Columns of a kit.
var kitColumns = []Column{
	required("Kit", "Parts kit", "Kit code"), optional("Description", "Desc", "Name"),
	optional("Cut step", "Tube cut step", "Cutting step"), optional("Kerf", "Saw kerf", "Saw cut", "Cut width"),
	optional("Hole pitch", "Hole spacing", "Pitch of holes"), optional("First hole", "First hole from end"),
	optional("Hole diameter", "Diameter of holes", "Bolt hole"), optional("Hole walls", "Holes through", "Bolts through"),
	optional("Rollers under", "Rollers under a container", "Rollers per container"),
	optional("Side clearance", "Least side clearance", "Minimum side clearance"), optional("Return slope", "Slope of return levels"),
	optional("Centre support", "Center support", "Centre support from", "Center support from"),
}

// Columns of a part of a kit. Mass and price per foot are the same as per metre.
var kitPartColumns = []Column{
	required("Kit", "Parts kit", "Kit code"), required("Part", "Kit part", "Part code"), required("Kind", "Type", "Kind of part", "Part kind"),
	optional("Description", "Desc", "Name"), optional("Uses", "Use", "Used as"), optional("Shape", "Section", "Section shape"),
	optional("Width", "Outside width", "Section width"), optional("Height", "Outside height", "Section height", "Diameter"),
	optional("Wall", "Wall thickness", "Thickness"), optional("Corner radius", "Outside corner radius", "Radius"),
	optional("Stock lengths", "Stock length", "Lengths"), optional("Pitch", "Roller pitch", "Roller spacing"),
	optional("Mass", "Mass each", "Weight", "Weight each"), optional("Mass per metre", "Mass per meter", "Weight per metre", "Weight per meter"),
	optional("Mass per foot", "Weight per foot"), optional("Price", "Price each", "Cost", "Unit price"),
	optional("Price per metre", "Price per meter", "Cost per metre", "Cost per meter"), optional("Price per foot", "Cost per foot"),
	optional("Material", "Steel", "Grade"), optional("Yield stress", "Yield strength", "Yield").in("MPa"),
	optional("Elastic modulus", "Modulus of elasticity", "Young's modulus").in("GPa"), massLimit,
	optional("Per joint", "Number per joint", "Quantity per joint"),
}

// Sheets returns the canonical sheets in the order of the workbook.
func Sheets() []Sheet {
	return []Sheet{
		{Plant, []string{"Settings", "Plant settings", "Plant data"}, []Column{
			required("Setting", "Parameter"), required("Value", "Values"),
		}},
		{Shifts, []string{"Shift", "Shift plan", "Shift pattern", "Shift calendar"}, []Column{
			required("Shift", "Shift name", "Shift code"), required("Days", "Weekdays", "Working days"),
			required("Start", "Shift start", "Start time", "From"), required("End", "Shift end", "End time", "To"),
			optional("Break start", "Break", "Break from"),
			optional("Break minutes", "Break length", "Break duration", "Break min").in("min"),
		}},
		{Products, []string{"Product", "Demand", "Product demand", "Models", "Build plan"}, []Column{
			product.must(), optional("Description", "Desc", "Name", "Product description", "Product name"),
			required("Units per day", "Units/day", "Demand per day", "Daily demand", "Volume per day", "Daily volume", "Demand", "Per day"),
			variation, cell,
		}},
		{Usage, []string{"Part usage", "Bill of use", "Bill of materials", "BOM", "Consumption", "Uses"},
			append([]Column{product, part.must(), cell.must(), station.must()}, useColumns...)},
		{History, []string{"Demand history", "Usage history", "Build history"}, []Column{
			product, part, required("Date", "Day"), required("Units", "Quantity", "Qty", "Pieces"),
		}},
		{Parts, []string{"Part", "Part list", "Part master", "Parts list", "Parts master", "Items", "Components", "Materials"},
			append([]Column{part.must(), container.must()}, partColumns...)},
		{Containers, []string{"Container", "Container list", "Container types", "Bins", "Totes", "Boxes", "Packaging"},
			append([]Column{container.must(), optional("Description", "Desc", "Name", "Container description"), length.must(), width.must(), height.must()}, containerColumns...)},
		{Cells, []string{"Cell", "Cell list", "Lines", "Work cells"}, []Column{
			cell.must(), optional("Name", "Description", "Cell name", "Line name"), optional("Area", "Department", "Zone", "Hall"),
			optional("Shifts", "Shift"), optional("Frontage", "Frontage limit", "Line length"),
			optional("Rack types allowed", "Allowed rack types", "Rack types"),
			optional("New rack X").in("m"), optional("New rack Y").in("m"), optional("New rack aisle point", "New rack point"),
		}},
		{Stations, []string{"Station", "Station list", "Workstations", "Work stations", "Points of use"}, []Column{
			station.must(), cell.must(), x, y, optional("Walk limit", "Walking limit", "Max walk", "Reach").in("m"),
		}},
		{RackTypes, []string{"Rack type", "Types of rack", "Rack designs"}, []Column{
			rackType.must(), optional("Width", "Rack width").must(), optional("Depth", "Rack depth").must(), optional("Height", "Rack height").must(),
			optional("Own mass", "Own weight", "Rack mass", "Rack weight", "Empty mass"), massLimit,
			optional("Cost", "Price", "Unit cost"), optional("On casters", "Casters", "On wheels", "Mobile"), optional("Kit", "Parts kit"),
		}},
		{Levels, []string{"Level", "Rack levels", "Shelves"}, []Column{
			rackType.must(), level.must(), required("Kind", "Type", "Level type", "Level kind", "Use"),
			required("Pick height", "Height at pick side", "Pick edge height", "Pick edge"),
			required("Drop", "Fall", "Height difference"), required("Lane length", "Usable length", "Length"),
			required("Usable width", "Width", "Clear width", "Inside width"), required("Clear height", "Clearance", "Free height"),
			massLimit,
		}},
		{Racks, []string{"Rack list", "Flow racks"}, []Column{
			rack.must(), rackType.must(), cell.must(), optional("Stations", "Station", "Serves", "Serves stations"), x, y,
			required("Aisle point", "Point", "Stop", "Stop point"), optional("Fixed lanes", "Lanes"),
		}},
		{AislePoints, []string{"Aisle point", "Points", "Nodes", "Floor points"}, []Column{
			required("Point", "Point code", "Aisle point", "Node", "Point id"), x.must(), y.must(),
			optional("Kind", "Type", "Point type", "Point kind"), optional("Places", "Loading places", "Docks"),
		}},
		{Aisles, []string{"Aisle", "Edges", "Aisle list"}, []Column{
			required("From", "From point", "Start"), required("To", "To point", "End"),
			optional("Length", "Distance").in("m"), optional("One way"),
			optional("Speed limit", "Max speed", "Speed").in("m/s"), optional("Traffic", "Used by", "Open to"),
			optional("Single file", "Narrow", "One at a time"), optional("Turn round", "Turning", "U-turn"),
		}},
		{Vehicles, []string{"Vehicle", "Vehicle types", "Carts", "Tow trains", "Trains"}, []Column{
			required("Vehicle type", "Vehicle", "Vehicle code", "Type"), required("Count", "Number", "Quantity", "Qty", "How many"),
			required("Containers", "Capacity", "Container capacity", "Max containers"), massLimit,
			required("Speed", "Driving speed", "Travel speed").in("m/s"), optional("Stop time", "Time per stop").in("s"),
			optional("Load time", "Loading time", "Time per load").in("s"), optional("Unload time", "Unloading time").in("s"),
			optional("Empty time", "Empties time", "Time per empty").in("s"), optional("From market", "Market", "Start point"),
			optional("On foot", "Walking", "Walks"), optional("Parking", "Parking point", "Parked at"),
		}},
		{CurrentLayout, []string{"Layout", "Current lanes", "Existing layout", "Layout today"}, []Column{
			rack.must(), level.must(), lane.must(), part.must(), station, optional("Containers", "Number of containers"),
		}},
		{Pins, []string{"Pin", "Pinned", "Fixed parts", "Fixed places"}, []Column{
			part.must(), station, rack.must(), level, lane, optional("Reason", "Remark", "Comment", "Why"),
		}},
		{Kits, []string{"Kit", "Parts kits", "Rack kits"}, kitColumns},
		{KitParts, []string{"Parts of kits", "Kit components", "Rack parts"}, kitPartColumns},
		{StockOnHand, []string{"Stock in store", "Bars on hand", "Offcuts", "Tubes in store"}, []Column{
			required("Part", "Section", "Kit part", "Tube", "Profile", "Part code"), length.must(), optional("Count", "Number", "Quantity", "Qty", "Pieces", "How many"),
			optional("Place", "Where", "Location", "Bin"),
		}},
		{Turns, []string{"Turn", "Turning rules", "Forbidden turns"}, []Column{
			optional("From point", "Coming from"), required("At point", "At", "Turning point"), optional("To point", "Going to"),
			optional("Allowed", "Permitted"),
		}},
		{CurrentRoutes, []string{"Current tours", "Routes today", "Existing routes", "Routes"}, []Column{
			required("Route", "Tour", "Route code", "Milk run"), required("Order", "Stop number", "Stop no", "Sequence"), rack.must(),
			optional("Vehicle type", "Vehicle"), optional("Interval", "Refill interval", "Every").in("min"),
		}},
		{RouteRules, []string{"Rules for routes", "Route restrictions"}, []Column{
			required("Rule", "Kind of rule", "Restriction"), rack, optional("Other rack", "Second rack"), optional("Route", "Tour"),
			optional("From", "From point"), optional("To", "To point"), optional("Reason", "Remark", "Comment", "Why"),
		}},
	}
}

// FlatTable returns the one sheet with one row per part and point of use. Its
// rate and its container are required too, each in one of two forms; the
// importers check that.
func FlatTable() Sheet {
	columns := []Column{part.must(), cell.must(), station.must(), product, container, length, width, height, measures}
	columns = append(columns, partColumns...)
	columns = append(columns, containerColumns...)
	return Sheet{Flat, nil, append(columns, useColumns...)}
}

// Settings returns the settings of the Plant sheet as columns of one sheet.
func Settings() Sheet {
	return Sheet{Plant, nil, []Column{
		required("Plant name", "Plant", "Name", "Site", "Factory"),
		optional("Length unit", "Unit of length"), optional("Mass unit", "Unit of mass", "Weight unit"),
		optional("Time zone"),
		optional("Refill interval", "Interval", "Replenishment interval").in("min"),
		optional("Response time").in("min"), optional("Service level"),
		optional("Service measure", "Measure of service", "Service level means", "Type of service level"),
		optional("Shortages per year", "Shortages a year", "Stockouts per year", "Allowed shortages per year"),
		optional("Safety", "Safety factor"),
		optional("History decides", "Use of history", "History use", "History"),
		optional("Interval choices", "Intervals").in("min"),
		optional("Lane side clearance", "Side clearance"), optional("Guide width"), optional("Hand clearance"),
		optional("Roller pitch"), optional("Fill limit of levels", "Fill limit"), optional("Load limit of a round", "Load limit"),
		optional("Busy limit of a handler", "Busy limit"),
		optional("Weeks per year", "Working weeks per year", "Weeks worked per year", "Working weeks"),
		optional("Handler cost per hour", "Handler cost", "Cost of a handler per hour", "Labour cost per hour", "Labor cost per hour", "Wage per hour"),
		optional("Vehicle cost per year", "Vehicle cost", "Cost of a vehicle per year", "Cart cost per year"),
		optional("Rack life", "Rack life years", "Life of a rack", "Years of rack depreciation", "Depreciation of racks"),
		optional("Floor cost per m2 and year", "Floor cost", "Floor cost per square metre and year", "Floor cost per m² and year", "Floor cost per m2", "Rent per m2 and year"),
		optional("Stock interest", "Interest on stock", "Holding cost", "Holding cost rate", "Inventory interest"),
		optional("Random seed", "Seed"),
	}}
}
