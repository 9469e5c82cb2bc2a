-- Simulations: plays of stored plans. A play that was made with its plan is the
-- plan's proof and belongs to it. Units as in the facts; shares from 0 to 1.

-- +goose Up
create table plan.simulations (
  id             bigint generated always as identity primary key,
  plan           bigint not null references plan.plans,
  proof          boolean not null,
  created        timestamptz not null default now(),
  -- The transaction that wrote the simulation: only it may add rows to it.
  written_by     xid8 not null default pg_current_xact_id(),
  -- What was played.
  weeks          bigint not null,
  warm_up_weeks  bigint not null,
  replications   bigint not null,
  use            text not null,
  from_day       date,
  seed           numeric(20) not null,
  played_ns      bigint not null,
  events         bigint not null,
  pieces         bigint not null,
  -- Loops by what was proved about them.
  proved         bigint not null,
  short          bigint not null,
  not_played     bigint not null
);
comment on table plan.simulations is 'Plays of plans, never changed once written';
create index simulations_plan on plan.simulations (plan, id);
create unique index simulations_proof on plan.simulations (plan) where proof;

create table plan.simulated_loops (
  simulation       bigint not null references plan.simulations,
  ordinal          integer not null,
  part             text not null,
  cell             text not null,
  station          text not null,
  verdict          text not null,
  cause            text not null,
  ideal            boolean not null,
  containers       bigint not null,
  enough           bigint not null,
  cycles           bigint not null,
  short_cycles     bigint not null,
  rate             double precision not null,
  rate_low         double precision not null,
  rate_high        double precision not null,
  rate_allowed     double precision not null,
  shortages        bigint not null,
  short_mean_ns    bigint not null,
  short_longest_ns bigint not null,
  fill_rate        double precision not null,
  on_hand_mean     double precision not null,
  on_hand_most     bigint not null,
  room             bigint not null,
  left_behind      bigint not null,
  signal_wait_ns   bigint not null,
  primary key (simulation, ordinal)
);

create table plan.simulated_routes (
  simulation    bigint not null references plan.simulations,
  ordinal       integer not null,
  route         text not null,
  rounds        bigint not null,
  late          bigint not null,
  dropped       bigint not null,
  late_mean_ns  bigint not null,
  late_most_ns  bigint not null,
  round_mean_ns bigint not null,
  round_95_ns   bigint not null,
  round_most_ns bigint not null,
  gap_most_ns   bigint not null,
  load_mean     double precision not null,
  load_95       bigint not null,
  load_most     bigint not null,
  capacity      bigint not null,
  left_behind   bigint not null,
  full_rounds   bigint not null,
  primary key (simulation, ordinal)
);

create table plan.simulated_racks (
  simulation bigint not null references plan.simulations,
  ordinal    integer not null,
  rack       text not null,
  visits     bigint not null,
  overfull   bigint not null,
  most_mm    double precision not null,
  room_mm    double precision not null,
  primary key (simulation, ordinal)
);

create table plan.simulation_findings (
  simulation        bigint not null references plan.simulations,
  ordinal           integer not null,
  severity          text not null,
  code              text not null,
  summary           text not null,
  detail            text not null,
  remedy            text not null,
  source            text not null,
  subject_part      text not null,
  subject_container text not null,
  subject_product   text not null,
  subject_cell      text not null,
  subject_station   text not null,
  subject_rack_type text not null,
  subject_rack      text not null,
  subject_level     bigint not null,
  subject_route     text not null,
  subject_vehicle   text not null,
  subject_point     text not null,
  measure_value     double precision,
  measure_limit     double precision,
  measure_unit      text,
  origin_file       text not null,
  origin_sheet      text not null,
  origin_row        bigint not null,
  origin_column     text not null,
  primary key (simulation, ordinal)
);

create table plan.simulation_finding_origins (
  simulation    bigint not null,
  ordinal       integer not null,
  parent        integer not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (simulation, ordinal),
  foreign key (simulation, parent) references plan.simulation_findings
);

-- +goose StatementBegin
create function plan.refuse_late_simulated_rows() returns trigger language plpgsql as $$
begin
  perform from added a join plan.simulations s on s.id = a.simulation
    where s.written_by <> pg_current_xact_id();
  if found then
    raise exception 'a stored simulation takes no more rows in %.%', tg_table_schema, tg_table_name
      using errcode = 'restrict_violation';
  end if;
  return null;
end $$;
-- +goose StatementEnd

-- +goose StatementBegin
create function plan.refuse_late_proof() returns trigger language plpgsql as $$
begin
  perform from added a join plan.plans p on p.id = a.plan
    where a.proof and p.written_by <> pg_current_xact_id();
  if found then
    raise exception 'a stored plan takes no proof any more'
      using errcode = 'restrict_violation';
  end if;
  return null;
end $$;
-- +goose StatementEnd

create trigger complete after insert on plan.simulations
  referencing new table as added
  for each statement execute function plan.refuse_late_proof();

-- +goose StatementBegin
do $$
declare
  t text;
begin
  foreach t in array array['simulations', 'simulated_loops', 'simulated_routes', 'simulated_racks',
    'simulation_findings', 'simulation_finding_origins']
  loop
    execute format('create trigger sealed before update or delete or truncate on plan.%I
      for each statement execute function facts.refuse_change()', t);
    continue when t = 'simulations';
    execute format('create trigger complete after insert on plan.%I
      referencing new table as added
      for each statement execute function plan.refuse_late_simulated_rows()', t);
  end loop;
end $$;
-- +goose StatementEnd

-- A run makes a plan or plays one.
alter table work.runs
  add column kind text not null default 'plan' check (kind in ('plan', 'simulation')),
  -- The plan to be played, and the play that was made.
  add column played bigint references plan.plans,
  add column simulation bigint references plan.simulations,
  drop constraint runs_check,
  add constraint runs_made check (case kind
    when 'plan' then (state = 'done') = (plan is not null) and simulation is null
    else (state = 'done') = (simulation is not null) and plan is null end),
  add constraint runs_played check ((kind = 'simulation') = (played is not null));
comment on schema work is 'Runs that make plans and play them';

create view report.simulations as
  select x.id as simulation, x.plan, x.proof, x.created, x.weeks, x.warm_up_weeks, x.replications, x.use,
    x.from_day, x.seed, x.played_ns / 3.6e12 as played_h, x.events, x.pieces, x.proved, x.short, x.not_played
  from plan.simulations x;

create view report.simulated_loops as
  select x.simulation, x.part, x.cell, x.station, x.verdict, x.cause, x.ideal, x.containers, x.cycles, x.short_cycles,
    x.rate * 100 as rate_percent, x.rate_low * 100 as rate_low_percent, x.rate_high * 100 as rate_high_percent,
    x.rate_allowed * 100 as rate_allowed_percent, x.shortages,
    x.short_mean_ns / 6e10 as short_mean_min, x.short_longest_ns / 6e10 as short_longest_min,
    x.fill_rate * 100 as fill_rate_percent, x.on_hand_mean, x.on_hand_most, x.room, x.left_behind,
    x.signal_wait_ns / 6e10 as signal_wait_min
  from plan.simulated_loops x;

create view report.simulated_routes as
  select x.simulation, x.route, x.rounds, x.late, x.dropped,
    x.late_mean_ns / 6e10 as late_mean_min, x.late_most_ns / 6e10 as late_most_min,
    x.round_mean_ns / 6e10 as round_mean_min, x.round_95_ns / 6e10 as round_95_min, x.round_most_ns / 6e10 as round_most_min,
    x.load_mean, x.load_95, x.load_most, x.capacity, x.left_behind, x.full_rounds
  from plan.simulated_routes x;

create view report.simulated_racks as
  select x.simulation, x.rack, x.visits, x.overfull, x.most_mm, x.room_mm
  from plan.simulated_racks x;

-- +goose Down
drop view report.simulations, report.simulated_loops, report.simulated_routes, report.simulated_racks;
delete from work.runs where kind = 'simulation';
alter table work.runs
  drop constraint runs_made,
  drop column kind,
  drop column played,
  drop column simulation,
  add constraint runs_check check ((state = 'done') = (plan is not null));
comment on schema work is 'Runs that make plans';
drop table plan.simulation_finding_origins, plan.simulation_findings, plan.simulated_racks, plan.simulated_routes,
  plan.simulated_loops, plan.simulations;
drop function plan.refuse_late_simulated_rows();
drop function plan.refuse_late_proof();
