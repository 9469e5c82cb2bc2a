package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/plot"
	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/plant"
)

// tradeTime is how long a caller is kept waiting for a trade.
const tradeTime = 30 * time.Second

// TradeInput asks for the trade of a cell.
type TradeInput struct {
	CellInput
	Price float64 `query:"frontage_price" minimum:"0" maximum:"1000000000" default:"0" doc:"kg of effort per net hour for each metre of frontage; 0 takes the plan's own"`
}

// listTrade answers with frontage and cost against effort in a cell.
func (s *server) listTrade(ctx context.Context, in *TradeInput) (*output[wire.Trade], error) {
	v, settings, list, err := s.tradeOf(ctx, in)
	if err != nil {
		return nil, err
	}
	return tagged(v.tag, *wire.NewTrade(v.plan.Plant, v.plan.Revision, in.Cell, settings, list)), nil
}

// plotTrade draws the same.
func (s *server) plotTrade(ctx context.Context, in *TradeInput) (*huma.StreamResponse, error) {
	v, _, list, err := s.tradeOf(ctx, in)
	if err != nil {
		return nil, err
	}
	var drawn bytes.Buffer
	if err := plot.Trade(&drawn, in.Cell, list); err != nil {
		return nil, fmt.Errorf("draw a trade of plan %d: %w", v.header.ID, err)
	}
	return s.send(v.tag, "", svg, "", func(w io.Writer) error {
		_, err := drawn.WriteTo(w)
		return err
	}), nil
}

// tradeOf tries fill limits on a cell of a plan's facts while the caller waits, as
// reliefs are tried.
func (s *server) tradeOf(ctx context.Context, in *TradeInput) (*view, planner.Settings, []planner.TradeOff, error) {
	none := planner.Settings{}
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, none, nil, err
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, none, nil, err
	}
	select {
	case s.tracing <- struct{}{}:
		defer func() { <-s.tracing }()
	case <-ctx.Done():
		return nil, none, nil, context.Cause(ctx)
	}
	settings := v.plan.Settings
	if in.Price > 0 {
		settings.Placement.FrontagePrice = in.Price
	}
	limited, cancel := context.WithTimeout(ctx, tradeTime)
	defer cancel()
	list, err := planner.Trade(limited, planner.Input{Plant: f.plant}, settings, plant.CellCode(in.Cell), planner.Options{Threads: 1})
	switch {
	case errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil:
		err = problem(http.StatusServiceUnavailable, fmt.Sprintf("Trying fill limits in this cell takes longer than %s; the program's command trade has no such limit.", tradeTime))
	case errors.Is(err, planner.ErrUnknownCell):
		err = missing("cell", in.Cell)
	}
	return v, settings, list, err
}
