-- Views for people: mm, kg, minutes, metres and numbers, with the names of
-- plant and plan instead of keys.

-- +goose Up
create schema report;
comment on schema report is 'Facts and plans in mm, kg and minutes, to query and never to write';

-- The numeric value of an exact ratio, "0.995" or "1/3".
create function report.number(ratio text) returns numeric
  language sql immutable strict parallel safe
  return case when strpos(ratio, '/') > 0
    then split_part(ratio, '/', 1)::numeric / split_part(ratio, '/', 2)::numeric
    else ratio::numeric end;

-- A time of day, "06:00"; past 24 h it is on the next day.
create function report.clock(ns bigint) returns text
  language sql immutable strict parallel safe
  return to_char(ns / 1000000000 * interval '1 second', 'HH24:MI');

create view report.revisions as
  select r.id as revision_id, p.name as plant, r.number as revision, r.hash, r.created,
    r.errors, r.warnings, r.notes
  from facts.revisions r join facts.plants p on p.id = r.plant;

create view report.sheets as
  select r.plant, r.revision, s.file, s.sheet, s.rows, s.used, s.reported, s.skipped
  from facts.sheets s join report.revisions r on r.revision_id = s.revision;

create view report.parts as
  select r.plant, r.revision, x.part, x.description, x.piece_mass_ug / 1e9 as piece_mass_kg,
    x.container, x.pack, x.market_address, x.unit_cost_millionths / 1e6 as unit_cost,
    x.two_hands, x.keep_apart, x.look_alike, x.origin_file, x.origin_sheet, x.origin_row
  from facts.parts x join report.revisions r on r.revision_id = x.revision;

create view report.containers as
  select r.plant, r.revision, x.container, x.description,
    x.length_nm / 1e6 as length_mm, x.width_nm / 1e6 as width_mm, x.height_nm / 1e6 as height_mm,
    x.empty_mass_ug / 1e9 as empty_mass_kg, nullif(x.gross_limit_ug, 0) / 1e9 as gross_limit_kg,
    x.returnable, x.flow_side, x.handles, report.number(x.nests) as nests,
    x.origin_file, x.origin_sheet, x.origin_row
  from facts.containers x join report.revisions r on r.revision_id = x.revision;

create view report.usage as
  select r.plant, r.revision, x.product, x.part, x.cell, x.station,
    report.number(x.pieces_per_unit) as pieces_per_unit,
    report.number(x.pieces_per_hour) as pieces_per_hour,
    report.number(x.pieces_per_day) as pieces_per_day,
    report.number(x.variation) as variation, report.number(x.scrap) as scrap,
    nullif(x.interval_ns, 0) / 6e10 as interval_min, nullif(x.response_ns, 0) / 6e10 as response_min,
    x.model, nullif(x.containers, 0) as containers,
    x.origin_file, x.origin_sheet, x.origin_row
  from facts.usage x join report.revisions r on r.revision_id = x.revision;

create view report.stations as
  select r.plant, r.revision, x.cell, x.station, x.x_nm / 1e9 as x_m, x.y_nm / 1e9 as y_m,
    x.walk_limit_nm / 1e9 as walk_limit_m, x.origin_file, x.origin_sheet, x.origin_row
  from facts.stations x join report.revisions r on r.revision_id = x.revision;

create view report.levels as
  select r.plant, r.revision, t.rack_type, x.level, x.kind,
    x.pick_height_nm / 1e6 as pick_height_mm, x.drop_nm / 1e6 as drop_mm,
    x.lane_length_nm / 1e6 as lane_length_mm, x.usable_width_nm / 1e6 as usable_width_mm,
    x.clear_height_nm / 1e6 as clear_height_mm, nullif(x.mass_limit_ug, 0) / 1e9 as mass_limit_kg,
    x.origin_file, x.origin_sheet, x.origin_row
  from facts.levels x
  join facts.rack_types t on t.revision = x.revision and t.ordinal = x.parent
  join report.revisions r on r.revision_id = x.revision;

create view report.fact_findings as
  select r.plant, r.revision, x.severity, x.code, x.summary, x.detail, x.remedy, x.source,
    x.origin_file, x.origin_sheet, x.origin_row, x.origin_column,
    x.measure_value, x.measure_limit, x.measure_unit
  from facts.findings x join report.revisions r on r.revision_id = x.revision;

create view report.plans as
  select x.id as plan, r.plant, r.revision, x.created, x.seed, x.version, x.stopped,
    x.loops, x.loops_placed, x.lanes_used, x.lanes_free, x.return_lanes, x.racks, x.racks_proposed,
    x.containers, x.containers_unplaced, x.routes, x.handlers, x.moves, x.moved_containers,
    x.errors, x.warnings, x.notes, x.pieces_per_hour, x.containers_per_hour, x.effort,
    x.id = max(x.id) over (partition by r.plant) as latest
  from plan.plans x join report.revisions r on r.revision_id = x.revision;

create view report.loops as
  select x.plan, x.part, x.cell, x.station, x.container, x.pack,
    report.number(x.rate) * 60 as pieces_per_hour,
    x.interval_ns / 6e10 as interval_min, x.response_ns / 6e10 as response_min,
    report.number(x.service_level) * 100 as service_level_percent, x.sized as demand_model,
    report.number(x.mean) as mean_pieces, report.number(x.covered) as covered_pieces,
    x.containers, x.lane_capacity, x.lanes, x.flow_side, x.route, x.gross_ug / 1e9 as gross_kg,
    x.origin_file, x.origin_sheet, x.origin_row
  from plan.loops x;

create view report.racks as
  select x.plan, x.rack, t.rack_type, x.cell, x.stations, x.proposed,
    case when x.place_known then x.x_nm / 1e9 end as x_m,
    case when x.place_known then x.y_nm / 1e9 end as y_m, x.aisle_point
  from plan.racks x
  left join plan.rack_types t on t.plan = x.plan and t.ordinal = x.type;

create view report.lanes as
  select x.plan, x.rack, x.level, x.lane, x.kind,
    x.offset_nm / 1e6 as offset_mm, x.width_nm / 1e6 as width_mm,
    x.part, x.cell, x.station, x.flow_side, x.capacity, x.containers
  from plan.lanes x;

create view report.routes as
  select x.plan, x.route, x.vehicle, x.handler, x.market,
    x.interval_ns / 6e10 as interval_min, x.round_ns / 6e10 as round_min,
    x.round_ns / nullif(x.interval_ns, 0)::double precision as busy, x.travel_nm / 1e9 as travel_m,
    x.load_mean, x.load_planned, x.mass_planned_ug / 1e9 as mass_planned_kg
  from plan.routes x;

create view report.stops as
  select x.plan, t.route, row_number() over (partition by x.plan, x.parent order by x.ordinal) as stop,
    x.rack, x.aisle_point, x.arrive_ns / 6e10 as arrive_min, x.containers, x.empties
  from plan.stops x
  join plan.routes t on t.plan = x.plan and t.ordinal = x.parent;

create view report.departures as
  select x.plan, t.route, x.shift, d.number as departure, report.clock(d.ns) as at
  from plan.timetable x
  join plan.routes t on t.plan = x.plan and t.ordinal = x.parent
  cross join lateral unnest(x.departures_ns) with ordinality as d (ns, number);

create view report.unplaced as
  select x.plan, x.part, x.cell, x.station, x.containers, x.reason, x.detail
  from plan.unplaced x;

create view report.findings as
  select x.plan, x.severity, x.code, x.summary, x.detail, x.remedy, x.source,
    x.origin_file, x.origin_sheet, x.origin_row, x.origin_column,
    x.measure_value, x.measure_limit, x.measure_unit
  from plan.findings x;

-- +goose Down
drop schema report cascade;
