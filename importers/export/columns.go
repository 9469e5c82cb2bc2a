package export

// column is one canonical column of the plant workbook.
type column struct {
	name string
	// unit stands in the header in brackets; empty columns have none.
	unit     string
	required bool
	help     string
}

// sheet is one canonical sheet of the plant workbook.
type sheet struct {
	name    string
	columns []column
}

// header is the heading of a column with its unit.
func (c column) header() string {
	if c.unit == "" {
		return c.name
	}
	return c.name + " (" + c.unit + ")"
}

// table is the sheet with the rows given.
func (s sheet) table(rows [][]any) Table {
	t := Table{Sheet: s.name, Rows: rows}
	for _, c := range s.columns {
		t.Header = append(t.Header, c.header())
		t.Required = append(t.Required, c.required)
		t.Help = append(t.Help, c.help)
	}
	return t
}

const must, may = true, false

// The sheets of the plant workbook, in the order in which they are written.
var (
	plantSheet = sheet{"Plant", []column{
		{"Setting", "", must, "The name of a setting. Leave the value blank to take the default."},
		{"Value", "", must, "The value, in the unit that the setting names. Service measure: cycle, year or fill. History decides: empirical, variation or all."},
	}}
	shiftsSheet = sheet{"Shifts", []column{
		{"Shift", "", must, "Name of the shift. Repeat the row with the same name to add breaks."},
		{"Days", "", must, "Days on which the shift starts: Mon-Fri, or Mon,Wed,Fri."},
		{"Start", "", must, "Time of day: 06:00."},
		{"End", "", must, "Time of day; an end at or before the start is on the next day."},
		{"Break start", "", may, "Time of day at which a break starts."},
		{"Break minutes", "", may, "Length of the break in minutes."},
	}}
	productsSheet = sheet{"Products", []column{
		{"Product", "", must, "Code of the product, kept as text."},
		{"Description", "", may, ""},
		{"Units per day", "", must, "Units built on a working day."},
		{"Variation", "", may, "Coefficient of variation of daily demand: 0.2 is 20 %. Default 0."},
		{"Cell", "", may, "Only if the product runs in one cell."},
	}}
	usageSheet = sheet{"Usage", []column{
		{"Product", "", may, "Which product uses the part. Blank: give pieces per hour instead."},
		{"Part", "", must, "Code of the part."},
		{"Cell", "", must, "Cell of the station."},
		{"Station", "", must, "Where the part is used."},
		{"Quantity per unit", "", may, "Pieces per unit of the product. Needed where a product is given."},
		{"Scrap", "%", may, "Pieces used in addition, in percent. Default 0."},
		{"Pieces per hour", "", may, "Use per net hour, for rows with no product."},
		{"Variation", "", may, "Coefficient of variation of the daily use, for rows with no product."},
		{"Refill interval", "min", may, "Time between two rounds. Default: the Plant sheet."},
		{"Response time", "min", may, "From collecting a signal to the full container at the lane. Default: the loop's refill interval."},
		{"Service level", "%", may, "Chance that a refill cycle passes with no shortage. Default: the Plant sheet."},
		{"Safety", "%", may, "A steady loop covers its mean use times 1 + safety. Default: the Plant sheet."},
		{"Demand model", "", may, "steady, normal, poisson, negative-binomial or empirical. Default: steady when the variation is 0, else normal."},
		{"Containers", "", may, "A fixed number of containers; overrides the calculation."},
	}}
	historySheet = sheet{"History", []column{
		{"Product", "", may, "What was built on the day; or give a part."},
		{"Part", "", may, "What was used on the day; or give a product."},
		{"Date", "", must, "The day, as a date or as 2026-01-31."},
		{"Units", "", must, "Units built or pieces used."},
	}}
	partsSheet = sheet{"Parts", []column{
		{"Part", "", must, "Code of the part, kept as text: 00123 stays 00123."},
		{"Description", "", may, ""},
		{"Piece mass", "kg", may, "Mass of one piece."},
		{"Container", "", must, "Code of the container it comes in."},
		{"Standard pack", "", must, "Pieces per full container."},
		{"Market address", "", may, "Where it lies in the market."},
		{"Unit cost", "", may, "Cost of one piece."},
		{"Pick hand", "", may, "one or two; for the check of masses. Default one."},
		{"Keep apart", "", may, "A group code: parts of one group never lie in neighbouring lanes."},
		{"Look-alike of", "", may, "A part that this one is easily taken for; the two never lie in neighbouring lanes."},
	}}
	containersSheet = sheet{"Containers", []column{
		{"Container", "", must, "Code of the container, tote, bin or carton."},
		{"Description", "", may, ""},
		{"Length", "mm", must, "Outside length."},
		{"Width", "mm", must, "Outside width."},
		{"Height", "mm", must, "Outside height."},
		{"Empty mass", "kg", may, "Mass of the empty container. Default 0."},
		{"Gross mass limit", "kg", may, "Largest mass of the full container. Default: no limit."},
		{"Returnable", "", may, "yes or no. Default yes."},
		{"Flow side", "", may, "Which side may run along the lane: length, width or either. Default either."},
		{"Handles", "", may, "good, fair or poor, for the check of lifting. Default fair."},
		{"Nests", "", may, "Height that an empty adds when nested, as a share of its height. Default 1: it does not nest."},
	}}
	cellsSheet = sheet{"Cells", []column{
		{"Cell", "", must, "Code of the cell."},
		{"Name", "", may, ""},
		{"Area", "", may, ""},
		{"Shifts", "", may, "The shifts it works, with commas between them. Default all."},
		{"Frontage", "mm", may, "Largest total width of racks along the cell. Default: no limit."},
		{"Rack types allowed", "", may, "Types of rack that may be added, with commas between them. Default all."},
		{"New rack X", "m", may, "Where an added rack would stand. Default: the mean of the cell's stations."},
		{"New rack Y", "m", may, "Where an added rack would stand. Default: the mean of the cell's stations."},
		{"New rack aisle point", "", may, "Where an added rack would be served. Default: the nearest aisle point."},
	}}
	stationsSheet = sheet{"Stations", []column{
		{"Station", "", must, "Code of the station, unique within its cell."},
		{"Cell", "", must, "Cell of the station."},
		{"X", "m", may, "Place on the plant map."},
		{"Y", "m", may, "Place on the plant map."},
		{"Walk limit", "m", may, "Farthest rack that the operator may be sent to. Default 5 m."},
	}}
	rackTypesSheet = sheet{"Rack types", []column{
		{"Rack type", "", must, "Code of the rack type."},
		{"Width", "mm", must, "Along the cell."},
		{"Depth", "mm", must, "From pick side to load side."},
		{"Height", "mm", must, ""},
		{"Own mass", "kg", may, "Mass of the empty rack. Default 0."},
		{"Mass limit", "kg", may, "For the rack and its load together. Default: no limit."},
		{"Cost", "", may, "Cost of one rack."},
		{"On casters", "", may, "yes or no."},
		{"Kit", "", may, "Parts kit that its build list uses."},
	}}
	levelsSheet = sheet{"Levels", []column{
		{"Rack type", "", must, "Code of the rack type."},
		{"Level", "", must, "1 is the lowest."},
		{"Kind", "", must, "supply or return."},
		{"Pick height", "mm", must, "From the floor to the lane surface at the pick edge."},
		{"Drop", "mm", must, "Load edge minus pick edge: positive on a supply level, negative on a return level."},
		{"Lane length", "mm", must, "Usable length of a lane."},
		{"Usable width", "mm", must, "Width between the uprights that lanes may fill."},
		{"Clear height", "mm", must, "Free height above the lane surface."},
		{"Mass limit", "kg", may, "Largest load of the level. Default: no limit."},
	}}
	racksSheet = sheet{"Racks", []column{
		{"Rack", "", must, "Code of the rack."},
		{"Rack type", "", must, "Code of its type."},
		{"Cell", "", must, "Cell that it stands in."},
		{"Stations", "", may, "The stations it serves, with commas between them. Default: all stations of the cell."},
		{"X", "m", may, "Place on the plant map."},
		{"Y", "m", may, "Place on the plant map."},
		{"Aisle point", "", must, "Where its load side is served."},
		{"Fixed lanes", "mm", may, "Where guides can not be moved: level, colon, lane widths from the left. 1: 416, 416, 320; 2: 317, 317"},
	}}
	pointsSheet = sheet{"Aisle points", []column{
		{"Point", "", must, "Code of the point."},
		{"X", "m", must, "Place on the plant map."},
		{"Y", "m", must, "Place on the plant map."},
		{"Kind", "", may, "market, stop, crossing or parking. Default crossing."},
		{"Places", "", may, "At a market: how many vehicles may stand there at once. Default: not known."},
	}}
	aislesSheet = sheet{"Aisles", []column{
		{"From", "", must, "Aisle point."},
		{"To", "", must, "Aisle point."},
		{"Length", "m", may, "Default: the straight line."},
		{"One way", "", may, "yes: only from From to To. Default no."},
		{"Speed limit", "m/s", may, "Default: none."},
		{"Traffic", "", may, "all, vehicles or people: who may use the aisle. Default all."},
		{"Single file", "", may, "yes: two vehicles can neither pass nor meet in it. Default no."},
		{"Turn round", "", may, "no: who comes out of it may not go straight back into it. Default yes."},
	}}
	vehiclesSheet = sheet{"Vehicles", []column{
		{"Vehicle type", "", must, "Code of the type of cart or train."},
		{"Count", "", must, "How many there are."},
		{"Containers", "", must, "How many containers it carries."},
		{"Mass limit", "kg", may, "Largest load. Default: no limit."},
		{"Speed", "m/s", must, "Driving speed, walking speed for a cart."},
		{"Stop time", "s", may, "At each stop. Default 0."},
		{"Load time", "s", may, "Per container at the market. Default 0."},
		{"Unload time", "s", may, "Per container at the rack. Default 0."},
		{"Empty time", "s", may, "Per empty container taken back. Default 0."},
		{"From market", "", may, "Aisle point where its rounds start. Default: the only market."},
		{"On foot", "", may, "yes: the handler walks, Speed is his pace. Default no."},
		{"Parking", "", may, "Aisle point where it stands outside its shifts. Default: the market."},
	}}
	currentSheet = sheet{"Current layout", []column{
		{"Rack", "", must, "Rack that the part lies in today."},
		{"Level", "", must, "1 is the lowest."},
		{"Lane", "", must, "From the left, seen from the pick side, starting at 1."},
		{"Part", "", must, "Part that lies there today."},
		{"Station", "", may, "Station that it is for."},
		{"Containers", "", may, "How many stand there."},
	}}
	pinsSheet = sheet{"Pins", []column{
		{"Part", "", must, "Part that must stay where it is."},
		{"Station", "", may, "Blank: every loop of the part in the rack's cell."},
		{"Rack", "", must, "Rack that it must lie in."},
		{"Level", "", may, "Blank: any level of the rack."},
		{"Lane", "", may, "Blank: any lane of the level."},
		{"Reason", "", may, "Why; people ask later."},
	}}
	kitsSheet = sheet{"Kits", []column{
		{"Kit", "", must, "Code of the kit: what racks are built from. Rack types name it."},
		{"Description", "", may, ""},
		{"Cut step", "mm", may, "Tubes are cut to whole multiples of it. Default 0: any length."},
		{"Kerf", "mm", may, "Lost at each cut. Default 0."},
		{"Hole pitch", "mm", may, "Distance of the holes along a tube. Default 0: no holes but those drilled at joints."},
		{"First hole", "mm", may, "From a tube's end to its first hole. Default 0."},
		{"Hole diameter", "mm", may, "What bolts take off a tube at a joint. Default 0: clamped."},
		{"Hole walls", "", may, "Walls the bolts go through: sides, top or both. Default sides."},
		{"Rollers under", "", may, "Least number of rollers under the shortest container. Default 3."},
		{"Side clearance", "mm", may, "Least on each side of a container in its lane. Default 0."},
		{"Return slope", "%", may, "Slope of return levels that the planner designs. Default 1 in 24."},
		{"Centre support", "mm", may, "Lane length from which uprights stand between the ends; 0 is never. Default 6 ft."},
	}}
	kitPartsSheet = sheet{"Kit parts", []column{
		{"Kit", "", must, "Code of the kit."},
		{"Part", "", must, "Code of the part, unique within its kit."},
		{"Kind", "", must, "tube, roller, guide, stop, connector, fastener, foot or caster."},
		{"Description", "", may, ""},
		{"Uses", "", may, "What a tube serves as: upright, cross tube, rail, brace, with commas between them. Default all."},
		{"Shape", "", may, "Section of a tube: rectangular or round. Default rectangular."},
		{"Width", "mm", may, "Outside width of the section; a stop's thickness along the lane."},
		{"Height", "mm", may, "Outside height of the section; a stop's over the lane surface; a foot's or caster's building height."},
		{"Wall", "mm", may, "Wall of a tube as a decimal measure, never the number of a series."},
		{"Corner radius", "mm", may, "Outside corner radius of a tube. Default 0."},
		{"Stock lengths", "mm", may, "The lengths in which it is bought, with commas between them."},
		{"Pitch", "mm", may, "Distance of the rollers on their track. Default 0: as the shortest container needs."},
		{"Mass", "kg", may, "Of one piece."},
		{"Mass per metre", "kg", may, "Of what is bought in lengths. Mass per foot is read too."},
		{"Price", "", may, "Of one piece."},
		{"Price per metre", "", may, "Of what is bought in lengths. Price per foot is read too."},
		{"Material", "", may, ""},
		{"Yield stress", "MPa", may, "Of a tube. Blank: its strength is not screened."},
		{"Elastic modulus", "GPa", may, "Of a tube. Blank: its deflection is not screened."},
		{"Mass limit", "kg", may, "The maker's: of one roller, foot or caster."},
		{"Per joint", "", may, "How many of a connector or fastener a joint takes. Default 0."},
	}}
	stockSheet = sheet{"Stock on hand", []column{
		{"Part", "", must, "Part of a kit that is cut from lengths, as the sheet Kit parts writes it: the section of a tube, a roller track, a guide."},
		{"Length", "mm", must, "Length of the bar or offcut. Cut lists use what lies in the store before anything is bought."},
		{"Count", "", may, "How many of that length. Default 1."},
		{"Place", "", may, "Where they lie."},
	}}
	turnsSheet = sheet{"Turns", []column{
		{"From point", "", may, "The next point along the aisle on which a vehicle comes. Blank: any."},
		{"At point", "", must, "The point where it turns."},
		{"To point", "", may, "The next point along the aisle into which it turns; the same as From point for turning round. Blank: any."},
		{"Allowed", "", may, "yes or no. Default no."},
	}}
	currentRoutesSheet = sheet{"Current routes", []column{
		{"Route", "", must, "Name of a route that is driven today."},
		{"Order", "", must, "Number of the stop on it, from 1."},
		{"Rack", "", must, "Rack that is served there."},
		{"Vehicle type", "", may, "What drives the route; once for a route is enough."},
		{"Interval", "min", may, "Time between two of its rounds; once for a route is enough. Default: the shortest interval of its racks."},
	}}
	routeRulesSheet = sheet{"Route rules", []column{
		{"Rule", "", must, "pin (Rack stays on Route), apart (Rack and Other rack never on one route), before (Rack before Other rack) or closed (nobody uses the aisle From To)."},
		{"Rack", "", may, "For pin, apart and before."},
		{"Other rack", "", may, "For apart and before."},
		{"Route", "", may, "For pin: a route of the sheet Current routes."},
		{"From", "", may, "For closed: aisle point."},
		{"To", "", may, "For closed: aisle point."},
		{"Reason", "", may, "Why; people ask later."},
	}}
)

// setting is one row of the Plant sheet.
type setting struct{ name, unit string }

func (s setting) label() string { return column{name: s.name, unit: s.unit}.header() }

// The settings of the Plant sheet, in the order of settingValues.
var plantSettings = []setting{
	{"Plant name", ""}, {"Length unit", ""}, {"Mass unit", ""}, {"Time zone", ""},
	{"Refill interval", "min"}, {"Response time", "min"}, {"Service level", "%"}, {"Service measure", ""}, {"Shortages per year", ""},
	{"Safety", "%"}, {"History decides", ""}, {"Interval choices", "min"}, {"Lane side clearance", "mm"}, {"Guide width", "mm"}, {"Hand clearance", "mm"},
	{"Fill limit of levels", "%"}, {"Load limit of a round", "%"}, {"Busy limit of a handler", "%"},
	{"Weeks per year", ""}, {"Handler cost per hour", ""}, {"Vehicle cost per year", ""}, {"Rack life", "years"},
	{"Floor cost per m2 and year", ""}, {"Stock interest", "%"}, {"Random seed", ""},
}
