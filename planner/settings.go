package planner

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"lanewright/planner/plant"
	"lanewright/planner/simulation"
	"lanewright/planner/units"
)

// ErrUnknownSetting and ErrBadSetting say why Settings.Set refused.
var (
	ErrUnknownSetting = errors.New("unknown setting")
	ErrBadSetting     = errors.New("bad value")
)

// Pair is one setting as text.
type Pair struct{ Key, Value string }

// Setting says what one setting takes.
type Setting struct {
	Key string
	// Unit is the symbol of what its numbers count: min, %, mm or s; "" where they
	// have none or one of money.
	Unit string
	// Options are the words that it may be; nil where it is a number, a text or a
	// list.
	Options []string
}

// ListSettings says of every setting what it takes, in the order of Settings.Pairs.
func ListSettings() []Setting {
	table := settingTable()
	list := make([]Setting, len(table))
	for i, t := range table {
		list[i] = t.Setting
	}
	return list
}

// setting reads and writes one field of Settings as text.
type setting struct {
	Setting
	get func(*Settings) string
	set func(*Settings, string) error
}

// settingTable lists every setting in the order people read them. Lengths are
// in mm, times in minutes, shares in percent, money in the plant's currency.
func settingTable() []setting {
	return slices.Concat(plantTable(), priceTable(), stageTable(), playTable())
}

func plantTable() []setting {
	return []setting{
		text("length_unit", func(s *Settings) *string { return &s.Plant.LengthUnit }, "mm", "cm", "m", "in", "ft"),
		text("mass_unit", func(s *Settings) *string { return &s.Plant.MassUnit }, "kg", "g", "t", "lb", "oz"),
		zone("time_zone", func(s *Settings) *string { return &s.Plant.TimeZone }),
		minutes("refill_interval_min", func(s *Settings) *time.Duration { return &s.Plant.Interval }, false),
		minutes("response_min", func(s *Settings) *time.Duration { return &s.Plant.Response }, true),
		percent("service_level", func(s *Settings) *units.Ratio { return &s.Plant.ServiceLevel }, above0below100),
		text("service_measure", func(s *Settings) *plant.ServiceMeasure { return &s.Plant.Measure }, plant.ServiceMeasures()...),
		quantity("shortages_per_year", func(s *Settings) *units.Ratio { return &s.Plant.ShortagesPerYear }, 1000),
		percent("safety", func(s *Settings) *units.Ratio { return &s.Plant.Safety }, from0),
		text("history_use", func(s *Settings) *plant.HistoryUse { return &s.Plant.History }, plant.HistoryUses()...),
		choices("interval_choices_min", func(s *Settings) *[]time.Duration { return &s.Plant.IntervalChoices }),
		millimetres("side_clearance_mm", func(s *Settings) *units.Length { return &s.Plant.SideClearance }),
		millimetres("guide_width_mm", func(s *Settings) *units.Length { return &s.Plant.GuideWidth }),
		millimetres("hand_clearance_mm", func(s *Settings) *units.Length { return &s.Plant.HandClearance }),
		millimetres("roller_pitch_mm", func(s *Settings) *units.Length { return &s.Plant.RollerPitch }),
		percent("fill_limit", func(s *Settings) *units.Ratio { return &s.Plant.FillLimit }, above0to100),
		percent("load_limit", func(s *Settings) *units.Ratio { return &s.Plant.LoadLimit }, above0to100),
		percent("busy_limit", func(s *Settings) *units.Ratio { return &s.Plant.BusyLimit }, above0to100),
		{Setting{Key: "seed"},
			func(s *Settings) string { return strconv.FormatUint(s.Plant.Seed, 10) },
			func(s *Settings, v string) error {
				n, err := strconv.ParseUint(v, 10, 64)
				if err != nil {
					return expect(false, v, "a whole number, 0 or more")
				}
				s.Plant.Seed = n
				return nil
			}},
	}
}

func priceTable() []setting {
	return []setting{
		quantity("weeks_per_year", func(s *Settings) *units.Ratio { return &s.Plant.WeeksPerYear }, plant.MostWeeks),
		money("handler_cost_hour", func(s *Settings) *units.Money { return &s.Plant.Prices.HandlerHour }),
		money("vehicle_cost_year", func(s *Settings) *units.Money { return &s.Plant.Prices.VehicleYear }),
		quantity("rack_life_years", func(s *Settings) *units.Ratio { return &s.Plant.Prices.RackYears }, 1000),
		money("floor_cost_m2_year", func(s *Settings) *units.Money { return &s.Plant.Prices.FloorYear }),
		percent("stock_interest", func(s *Settings) *units.Ratio { return &s.Plant.Prices.StockInterest }, from0to100),
	}
}

func stageTable() []setting {
	return []setting{
		number("walk_cost", func(s *Settings) *float64 { return &s.Placement.WalkCost }),
		count("placement_steps", func(s *Settings) *int { return &s.Placement.Steps }, 0, 1_000_000),
		count("proof_steps", func(s *Settings) *int { return &s.Placement.ProofSteps }, 0, 1_000_000_000),
		number("move_price", func(s *Settings) *float64 { return &s.Placement.MovePrice }),
		number("frontage_price", func(s *Settings) *float64 { return &s.Placement.FrontagePrice }),
		list("keep_cells", func(s *Settings) *[]string { return &s.Placement.Keep.Cells }),
		list("keep_racks", func(s *Settings) *[]string { return &s.Placement.Keep.Racks }),
		list("keep_levels", func(s *Settings) *[]string { return &s.Placement.Keep.Levels }),
		list("keep_loops", func(s *Settings) *[]string { return &s.Placement.Keep.Loops }),
		limit("move_limit", func(s *Settings) *bool { return &s.Placement.Limited }, func(s *Settings) *int { return &s.Placement.MoveLimit }),
		seconds("move_container_s", func(s *Settings) *time.Duration { return &s.Placement.Moving.Container }),
		number("move_walk_m_per_s", func(s *Settings) *float64 { return &s.Placement.Moving.Speed }),
		number("move_distance_m", func(s *Settings) *float64 { return &s.Placement.Moving.Distance }),
		minutes("move_shift_min", func(s *Settings) *time.Duration { return &s.Placement.Moving.Shift }, false),
		count("routing_steps", func(s *Settings) *int { return &s.Routing.Steps }, 0, 1_000_000),
		number("route_move_price", func(s *Settings) *float64 { return &s.Routing.MovePrice }),
		limit("route_move_limit", func(s *Settings) *bool { return &s.Routing.Limited }, func(s *Settings) *int { return &s.Routing.MoveLimit }),
		millimetres("deck_height_mm", func(s *Settings) *units.Length { return &s.Ergonomics.Deck }),
		millimetres("pick_reach_mm", func(s *Settings) *units.Length { return &s.Ergonomics.PickReach }),
		millimetres("work_height_mm", func(s *Settings) *units.Length { return &s.Ergonomics.Work }),
		yesNo("choose_intervals", func(s *Settings) *bool { return &s.ChooseIntervals }),
		yesNo("cover_shift_ends", func(s *Settings) *bool { return &s.CoverShiftEnds }),
		yesNo("design_racks", func(s *Settings) *bool { return &s.DesignRacks }),
		yesNo("prove", func(s *Settings) *bool { return &s.Prove }),
	}
}

// playTable lists what a play of the plan asks for. Its limits lie far beyond
// what a proof needs.
func playTable() []setting {
	return []setting{
		count("simulation_weeks", func(s *Settings) *int { return &s.Simulation.Weeks }, 1, 520),
		count("simulation_warm_up_weeks", func(s *Settings) *int { return &s.Simulation.WarmUp }, 0, 52),
		count("simulation_replications", func(s *Settings) *int { return &s.Simulation.Replications }, 1, 1000),
		text("simulation_use", func(s *Settings) *simulation.Use { return &s.Simulation.Use },
			simulation.UseModel, simulation.UseRandom, simulation.UseLevelled),
		day("simulation_from", func(s *Settings) *time.Time { return &s.Simulation.From }),
	}
}

// Pairs lists every setting as text, in a fixed order; Set reads each back to
// the same value.
func (s Settings) Pairs() []Pair {
	table := settingTable()
	pairs := make([]Pair, len(table))
	for i, t := range table {
		pairs[i] = Pair{t.Key, t.get(&s)}
	}
	return pairs
}

// Set changes one setting. It answers with ErrUnknownSetting or ErrBadSetting,
// wrapped with what was expected.
func (s *Settings) Set(key, value string) error { return s.set(settingTable(), key, value) }

// SetPlay changes one setting of a play of a plan; the others of a plan are
// unknown to it. It answers as Set does.
func SetPlay(p *simulation.Settings, key, value string) error {
	s := Settings{Simulation: *p}
	if err := s.set(playTable(), key, value); err != nil {
		return err
	}
	*p = s.Simulation
	return nil
}

func (s *Settings) set(table []setting, key, value string) error {
	keys := make([]string, len(table))
	for i, t := range table {
		if t.Key == key {
			if err := t.set(s, strings.TrimSpace(value)); err != nil {
				return fmt.Errorf("%s: %w", key, err)
			}
			return nil
		}
		keys[i] = t.Key
	}
	return fmt.Errorf("%w %q; there are %s", ErrUnknownSetting, key, strings.Join(keys, ", "))
}

func expect(ok bool, found, want string) error {
	if ok {
		return nil
	}
	return fmt.Errorf("%w %q: expected %s", ErrBadSetting, found, want)
}

func text[T ~string](key string, field func(*Settings) *T, allowed ...T) setting {
	var names []string
	for _, a := range allowed {
		names = append(names, string(a))
	}
	return setting{Setting{Key: key, Options: names},
		func(s *Settings) string { return string(*field(s)) },
		func(s *Settings, v string) error {
			if !slices.Contains(names, v) {
				return expect(false, v, "one of "+strings.Join(names, ", "))
			}
			*field(s) = T(v)
			return nil
		}}
}

func zone(key string, field func(*Settings) *string) setting {
	return setting{Setting{Key: key},
		func(s *Settings) string { return *field(s) },
		func(s *Settings, v string) error {
			_, err := time.LoadLocation(v)
			if err := expect(err == nil && v != "" && v != "Local", v, "an IANA time zone such as Europe/Berlin"); err != nil {
				return err
			}
			*field(s) = v
			return nil
		}}
}

func ratio(v string, ok func(units.Ratio) bool, want string) (units.Ratio, error) {
	r, err := units.ParseRatio(v)
	if err != nil || !ok(r) {
		return r, expect(false, v, want)
	}
	return r, nil
}

// percentRange is a range of percentages.
type percentRange struct {
	want string
	ok   func(units.Ratio) bool
}

var (
	from0          = percentRange{"a percentage, 0 or more", func(r units.Ratio) bool { return r.Sign() >= 0 }}
	from0to100     = percentRange{"a percentage, 0 to 100", func(r units.Ratio) bool { return r.Sign() >= 0 && r.Cmp(units.Int(100)) <= 0 }}
	above0to100    = percentRange{"a percentage above 0 and at most 100", func(r units.Ratio) bool { return r.Sign() > 0 && r.Cmp(units.Int(100)) <= 0 }}
	above0below100 = percentRange{"a percentage above 0 and below 100", func(r units.Ratio) bool { return r.Sign() > 0 && r.Cmp(units.Int(100)) < 0 }}
)

func percent(key string, field func(*Settings) *units.Ratio, within percentRange) setting {
	hundred := units.Int(100)
	return setting{Setting{Key: key, Unit: "%"},
		func(s *Settings) string { return field(s).Mul(hundred).String() },
		func(s *Settings, v string) error {
			r, err := ratio(strings.TrimSuffix(v, "%"), within.ok, within.want)
			if err == nil {
				*field(s) = r.Div(hundred)
			}
			return err
		}}
}

// quantity is an exact number above 0, at most high.
func quantity(key string, field func(*Settings) *units.Ratio, high int64) setting {
	return setting{Setting{Key: key},
		func(s *Settings) string { return field(s).String() },
		func(s *Settings, v string) error {
			r, err := ratio(v, func(r units.Ratio) bool { return positive(r) && r.Cmp(units.Int(high)) <= 0 },
				fmt.Sprintf("a number above 0 and at most %d", high))
			if err == nil {
				*field(s) = r
			}
			return err
		}}
}

// money is an amount of at most a thousand million, to the millionth.
func money(key string, field func(*Settings) *units.Money) setting {
	return setting{Setting{Key: key},
		func(s *Settings) string { return units.R(int64(*field(s)), int64(units.Unit)).String() },
		func(s *Settings, v string) error {
			const want = "an amount of money, 0 to 1000000000"
			r, err := ratio(v, func(r units.Ratio) bool { return notNegative(r) && r.Cmp(units.Int(1_000_000_000)) <= 0 }, want)
			if err != nil {
				return err
			}
			m, ok := units.Amount(r)
			if ok {
				*field(s) = m
			}
			return expect(ok, v, want)
		}}
}

func yesNo(key string, field func(*Settings) *bool) setting {
	words := map[string]bool{"yes": true, "no": false, "true": true, "false": false}
	return setting{Setting{Key: key, Options: []string{"yes", "no"}},
		func(s *Settings) string {
			if *field(s) {
				return "yes"
			}
			return "no"
		},
		func(s *Settings, v string) error {
			b, ok := words[v]
			if ok {
				*field(s) = b
			}
			return expect(ok, v, "yes or no")
		}}
}

// day is a date; the empty text is none.
func day(key string, field func(*Settings) *time.Time) setting {
	return setting{Setting{Key: key},
		func(s *Settings) string {
			if field(s).IsZero() {
				return ""
			}
			return field(s).Format(time.DateOnly)
		},
		func(s *Settings, v string) error {
			if v == "" {
				*field(s) = time.Time{}
				return nil
			}
			d, err := time.Parse(time.DateOnly, v)
			if err := expect(err == nil && d.Year() >= 1900 && d.Year() <= 2200, v, "a date such as 2026-10-19, or nothing for none"); err != nil {
				return err
			}
			*field(s) = d
			return nil
		}}
}

func positive(r units.Ratio) bool    { return r.Sign() > 0 }
func notNegative(r units.Ratio) bool { return r.Sign() >= 0 }

func duration(v string, zeroToo bool) (time.Duration, error) {
	ok, want := positive, "minutes, more than 0 and at most 10080"
	if zeroToo {
		ok, want = notNegative, "minutes, 0 (each loop's own interval) to 10080"
	}
	week := units.Int(7 * 24 * 60)
	r, err := ratio(v, func(r units.Ratio) bool { return ok(r) && r.Cmp(week) <= 0 }, want)
	return time.Duration(r.Mul(units.Int(int64(time.Minute))).Floor()), err
}

func minutes(key string, field func(*Settings) *time.Duration, zeroToo bool) setting {
	return setting{Setting{Key: key, Unit: "min"},
		func(s *Settings) string { return units.Minutes(*field(s)).String() },
		func(s *Settings, v string) error {
			d, err := duration(v, zeroToo)
			if err == nil {
				*field(s) = d
			}
			return err
		}}
}

// seconds is a time of 0 to an hour.
func seconds(key string, field func(*Settings) *time.Duration) setting {
	return setting{Setting{Key: key, Unit: "s"},
		func(s *Settings) string { return units.R(int64(*field(s)), int64(time.Second)).String() },
		func(s *Settings, v string) error {
			r, err := ratio(v, func(r units.Ratio) bool { return notNegative(r) && r.Cmp(units.Int(3600)) <= 0 }, "seconds, 0 to 3600")
			if err == nil {
				*field(s) = time.Duration(r.Mul(units.Int(int64(time.Second))).Floor())
			}
			return err
		}}
}

func choices(key string, field func(*Settings) *[]time.Duration) setting {
	return setting{Setting{Key: key, Unit: "min"},
		func(s *Settings) string {
			var list []string
			for _, d := range *field(s) {
				list = append(list, units.Minutes(d).String())
			}
			return strings.Join(list, ", ")
		},
		func(s *Settings, v string) error {
			var list []time.Duration
			for part := range strings.SplitSeq(v, ",") {
				d, err := duration(strings.TrimSpace(part), false)
				if err != nil {
					return err
				}
				if len(list) > 0 && d <= list[len(list)-1] {
					return expect(false, v, "rising minutes separated by commas")
				}
				list = append(list, d)
			}
			*field(s) = list
			return nil
		}}
}

func millimetres(key string, field func(*Settings) *units.Length) setting {
	return setting{Setting{Key: key, Unit: "mm"},
		func(s *Settings) string {
			return field(s).Ratio().Div(units.Millimetre.Ratio()).String()
		},
		func(s *Settings, v string) error {
			r, err := ratio(v, notNegative, "millimetres, 0 or more")
			if err != nil {
				return err
			}
			l, ok := units.Lengths(r, units.Millimetre)
			if err := expect(ok && l <= 100*units.Metre, v, "millimetres, 0 to 100000"); err != nil {
				return err
			}
			*field(s) = l
			return nil
		}}
}

func number(key string, field func(*Settings) *float64) setting {
	return setting{Setting{Key: key},
		func(s *Settings) string { return strconv.FormatFloat(*field(s), 'g', -1, 64) },
		func(s *Settings, v string) error {
			f, err := strconv.ParseFloat(v, 64)
			if err := expect(err == nil && f >= 0 && f <= 1e6, v, "a number, 0 to 1000000"); err != nil {
				return err
			}
			*field(s) = f
			return nil
		}}
}

func count(key string, field func(*Settings) *int, low, high int) setting {
	return setting{Setting{Key: key},
		func(s *Settings) string { return strconv.Itoa(*field(s)) },
		func(s *Settings, v string) error {
			n, err := strconv.Atoi(v)
			if err := expect(err == nil && n >= low && n <= high, v, fmt.Sprintf("a whole number, %d to %d", low, high)); err != nil {
				return err
			}
			*field(s) = n
			return nil
		}}
}
