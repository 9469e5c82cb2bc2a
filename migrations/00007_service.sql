-- What a service level promises, what the history decides, and what a plan
-- costs. Facts and plans of before get what the program assumed then.

-- +goose Up
alter table facts.settings
  add column measure                 text not null default 'cycle',
  add column shortages_per_year      text not null default '1',
  add column history                 text not null default 'empirical',
  add column weeks_per_year          text not null default '48',
  add column handler_hour_millionths bigint not null default 0,
  add column vehicle_year_millionths bigint not null default 0,
  add column rack_years              text not null default '10',
  add column floor_year_millionths   bigint not null default 0,
  add column stock_interest          text not null default '0';
alter table facts.settings
  alter column measure drop default,
  alter column shortages_per_year drop default,
  alter column history drop default,
  alter column weeks_per_year drop default,
  alter column handler_hour_millionths drop default,
  alter column vehicle_year_millionths drop default,
  alter column rack_years drop default,
  alter column floor_year_millionths drop default,
  alter column stock_interest drop default;

alter table plan.loops add column measure text not null default 'cycle';
alter table plan.loops alter column measure drop default;
alter table plan.loops add column wait_ns bigint not null default 0;
alter table plan.loops alter column wait_ns drop default;

drop view report.loops;
create view report.loops as
  select x.plan, x.part, x.cell, x.station, x.container, x.pack,
    report.number(x.rate) * 60 as pieces_per_hour,
    x.interval_ns / 6e10 as interval_min, x.response_ns / 6e10 as response_min,
    report.number(x.service_level) * 100 as service_level_percent, x.measure as service_measure,
    x.sized as demand_model,
    report.number(x.mean) as mean_pieces, report.number(x.covered) as covered_pieces,
    x.containers, x.lane_capacity, x.lanes, x.flow_side, x.route, x.gross_ug / 1e9 as gross_kg,
    x.origin_file, x.origin_sheet, x.origin_row
  from plan.loops x;

-- +goose Down
drop view report.loops;
create view report.loops as
  select x.plan, x.part, x.cell, x.station, x.container, x.pack,
    report.number(x.rate) * 60 as pieces_per_hour,
    x.interval_ns / 6e10 as interval_min, x.response_ns / 6e10 as response_min,
    report.number(x.service_level) * 100 as service_level_percent, x.sized as demand_model,
    report.number(x.mean) as mean_pieces, report.number(x.covered) as covered_pieces,
    x.containers, x.lane_capacity, x.lanes, x.flow_side, x.route, x.gross_ug / 1e9 as gross_kg,
    x.origin_file, x.origin_sheet, x.origin_row
  from plan.loops x;

alter table plan.loops drop column measure, drop column wait_ns;
alter table facts.settings
  drop column measure,
  drop column shortages_per_year,
  drop column history,
  drop column weeks_per_year,
  drop column handler_hour_millionths,
  drop column vehicle_year_millionths,
  drop column rack_years,
  drop column floor_year_millionths,
  drop column stock_interest;
