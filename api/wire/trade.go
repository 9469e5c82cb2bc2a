package wire

import "lanewright/planner"

// TradeFormat names the shape of Trade, as Format does that of Plan.
const TradeFormat = "lanewright.trade/1"

// Trade lists frontage and cost against effort at several fill limits.
type Trade struct {
	Format   string     `json:"format" enum:"lanewright.trade/1"`
	Plant    string     `json:"plant"`
	Revision string     `json:"revision" doc:"SHA-256 of the facts"`
	Seed     uint64     `json:"seed"`
	Version  string     `json:"version" doc:"version of the planner's rules"`
	Cell     string     `json:"cell" doc:"empty for the whole plant"`
	Trade    []TradeOff `json:"trade" doc:"by fill limit, the highest first; last the plan at the setting frontage_price where that is above 0"`
}

// TradeOff is what the racks come to at one fill limit.
type TradeOff struct {
	FillLimit          float64  `json:"fill_limit" doc:"percent"`
	Undominated        bool     `json:"undominated" doc:"no other fill limit is as good or better in all that counts and better in something"`
	Best               bool     `json:"best" doc:"best at the setting frontage_price; never where that is 0"`
	Priced             bool     `json:"priced" doc:"what a plan gets at frontage_price: each cell chooses for itself within this fill limit"`
	ContainersUnplaced int      `json:"containers_unplaced"`
	Racks              int      `json:"racks" doc:"proposed ones included"`
	RacksProposed      int      `json:"racks_proposed"`
	FrontageM          float64  `json:"frontage_m" doc:"width of all racks together"`
	AddedCost          *float64 `json:"added_cost" doc:"of the proposed racks; null where the sheets do not give it"`
	Effort             float64  `json:"effort" doc:"kg per net hour"`
}

// NewTrade converts what was found for a plant, or one of its cells.
func NewTrade(plant, revision, cell string, s planner.Settings, list []planner.TradeOff) *Trade {
	return &Trade{
		Format: TradeFormat, Plant: plant, Revision: revision, Seed: s.Plant.Seed, Version: planner.Version, Cell: cell,
		Trade: convert(list, newTradeOff),
	}
}

func newTradeOff(t planner.TradeOff) TradeOff {
	out := TradeOff{
		FillLimit: percent(t.FillLimit), Undominated: t.Undominated, Best: t.Best, Priced: t.Priced, ContainersUnplaced: t.Unplaced,
		Racks: t.Racks, RacksProposed: t.RacksProposed, FrontageM: t.Frontage.Metres(), Effort: t.Effort,
	}
	if t.AddedKnown {
		cost := t.Added.Float64()
		out.AddedCost = &cost
	}
	return out
}
