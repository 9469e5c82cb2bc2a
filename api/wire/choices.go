package wire

import (
	"lanewright/planner"
	"lanewright/planner/costing"
)

// ChoicesFormat names the shape of Choices, as Format does that of Plan.
const ChoicesFormat = "lanewright.choices/1"

// Choices compares whole plans over refill intervals and service levels.
type Choices struct {
	Format   string   `json:"format" enum:"lanewright.choices/1"`
	Plant    string   `json:"plant"`
	Revision string   `json:"revision" doc:"SHA-256 of the facts"`
	Seed     uint64   `json:"seed"`
	Version  string   `json:"version" doc:"version of the planner's rules"`
	Choices  []Choice `json:"choices" doc:"by service level, then interval"`
}

// Choice is what a plan comes to at one refill interval and service level.
type Choice struct {
	IntervalMin        float64 `json:"interval_min"`
	ServiceLevel       float64 `json:"service_level" doc:"percent"`
	Undominated        bool    `json:"undominated" doc:"no other choice is as good or better in all that counts and better in something"`
	Containers         int     `json:"containers" doc:"of all loops"`
	ContainersUnplaced int     `json:"containers_unplaced"`
	LanesUsed          int     `json:"lanes_used"`
	Racks              int     `json:"racks" doc:"proposed ones included"`
	RacksProposed      int     `json:"racks_proposed"`
	FrontageM          float64 `json:"frontage_m" doc:"width of all racks together"`
	Routes             int     `json:"routes"`
	Handlers           int     `json:"handlers"`
	RoundsPerWeek      int     `json:"rounds_per_week"`
	RoundsPerDay       float64 `json:"rounds_per_day" doc:"mean over the days that are worked"`
	StockPieces        float64 `json:"stock_pieces" doc:"mean on hand at the line"`
	StockValue         float64 `json:"stock_value" doc:"of the pieces whose part has a unit cost"`
	LoopsUnvalued      int     `json:"loops_unvalued" doc:"loops whose part has no unit cost"`
	OwnIntervals       int     `json:"own_intervals" doc:"loops that keep the interval of their rows"`
	OwnServiceLevels   int     `json:"own_service_levels" doc:"loops that keep the service level of their rows"`
	Cost               Cost    `json:"cost"`
}

// Cost is what a plan costs in a year, in the plant's currency.
type Cost struct {
	Total   float64    `json:"total" doc:"the sum of what is known"`
	Partial bool       `json:"partial" doc:"a price is missing: the true total is higher"`
	Lines   []CostLine `json:"lines"`
}

// CostLine is one kind of yearly cost.
type CostLine struct {
	Kind     string  `json:"kind" enum:"handlers,vehicles,racks,floor,stock"`
	Quantity float64 `json:"quantity"`
	Unit     string  `json:"unit"`
	Price    float64 `json:"price" doc:"of one unit in a year; 0 is not known"`
	Amount   float64 `json:"amount" doc:"quantity · price of what has a price"`
	Items    int     `json:"items" doc:"handlers, vehicles, racks or loops behind the line"`
	Unpriced int     `json:"unpriced" doc:"those of them without a price: with any, the amount is not all"`
}

// NewChoices converts what was found for a plant with settings s.
func NewChoices(plant, revision string, s planner.Settings, list []planner.Choice) *Choices {
	return &Choices{
		Format: ChoicesFormat, Plant: plant, Revision: revision, Seed: s.Plant.Seed, Version: planner.Version,
		Choices: convert(list, newChoice),
	}
}

func newChoice(c planner.Choice) Choice {
	return Choice{
		IntervalMin: minutes(c.Interval), ServiceLevel: percent(c.ServiceLevel), Undominated: c.Undominated,
		Containers: c.Containers, ContainersUnplaced: c.Unplaced, LanesUsed: c.LanesUsed,
		Racks: c.Racks, RacksProposed: c.RacksProposed, FrontageM: c.Frontage.Metres(),
		Routes: c.Routes, Handlers: c.Handlers, RoundsPerWeek: c.RoundsWeek, RoundsPerDay: c.RoundsDay.Float64(),
		StockPieces: c.Pieces.Float64(), StockValue: c.StockValue().Float64(), LoopsUnvalued: c.Unvalued,
		OwnIntervals: c.OwnIntervals, OwnServiceLevels: c.OwnServiceLevels, Cost: NewCost(c.Cost),
	}
}

// NewCost converts a yearly cost.
func NewCost(c costing.Cost) Cost {
	return Cost{Total: c.Total.Float64(), Partial: c.Partial(), Lines: convert(c.Lines, newCostLine)}
}

func newCostLine(l costing.Line) CostLine {
	return CostLine{
		Kind: string(l.Kind), Quantity: l.Quantity.Float64(), Unit: l.Unit, Price: l.Price.Float64(),
		Amount: l.Amount.Float64(), Items: l.Items, Unpriced: l.Unpriced,
	}
}
