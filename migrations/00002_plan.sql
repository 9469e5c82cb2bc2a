-- Plans: what the planner made of a revision. Units as in the facts.

-- +goose Up
create schema plan;
comment on schema plan is 'Plans made from revisions, never changed once written';

create table plan.plans (
  id                  bigint generated always as identity primary key,
  revision            bigint not null references facts.revisions,
  plant_name          text not null,
  hash                text not null,
  seed                numeric(20) not null,
  version             text not null,
  stopped             text not null,
  created             timestamptz not null default now(),
  -- The transaction that wrote the plan: only it may add rows to it.
  written_by          xid8 not null default pg_current_xact_id(),
  -- Where the settings of the facts stood.
  origin_file         text not null,
  origin_sheet        text not null,
  origin_row          bigint not null,
  origin_column       text not null,
  -- What no set of routes can beat.
  bound_routes        bigint not null,
  bound_routes_least  bigint not null,
  bound_travel_nm     bigint not null,
  bound_travel_least_nm bigint not null,
  bound_handlers      bigint not null,
  bound_handlers_least bigint not null,
  -- The plan in numbers.
  loops               bigint not null,
  loops_placed        bigint not null,
  lanes_used          bigint not null,
  lanes_free          bigint not null,
  return_lanes        bigint not null,
  racks               bigint not null,
  racks_proposed      bigint not null,
  containers          bigint not null,
  containers_unplaced bigint not null,
  routes              bigint not null,
  handlers            bigint not null,
  moves               bigint not null,
  moved_containers    bigint not null,
  errors              bigint not null,
  warnings            bigint not null,
  notes               bigint not null,
  pieces_per_hour     double precision not null,
  containers_per_hour double precision not null,
  effort              double precision not null
);
create index plans_revision on plan.plans (revision, id);

create table plan.settings (
  plan    bigint not null references plan.plans,
  ordinal integer not null,
  key     text not null,
  value   text not null,
  primary key (plan, ordinal)
);

create table plan.loops (
  plan          bigint not null references plan.plans,
  ordinal       integer not null,
  part          text not null,
  cell          text not null,
  station       text not null,
  container     text not null,
  pack          bigint not null,
  rate          text not null,
  variance      text not null,
  day_minutes   text not null,
  interval_ns   bigint not null,
  response_ns   bigint not null,
  service_level text not null,
  safety        text not null,
  model         text not null,
  fixed         bigint not null,
  days          text[] not null,
  mean          text not null,
  covered       text not null,
  cards         bigint not null,
  rule          bigint not null,
  containers    bigint not null,
  sized         text not null,
  gross_ug      bigint not null,
  lane_capacity bigint not null,
  lanes         bigint not null,
  flow_side     text not null,
  route         text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (plan, ordinal)
);
comment on table plan.loops is 'One part at one station: rate in pieces per net minute, mean and covered in pieces';

create table plan.sources (
  plan          bigint not null,
  ordinal       integer not null,
  parent        integer not null,
  product       text not null,
  rate          text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (plan, ordinal),
  foreign key (plan, parent) references plan.loops
);
comment on table plan.sources is 'The rows of the sheets that a loop''s rate came from';

create table plan.rack_types (
  plan            bigint not null references plan.plans,
  ordinal         integer not null,
  rack_type       text not null,
  width_nm        bigint not null,
  depth_nm        bigint not null,
  height_nm       bigint not null,
  own_mass_ug     bigint not null,
  mass_limit_ug   bigint not null,
  cost_millionths bigint not null,
  on_casters      boolean not null,
  kit             text not null,
  origin_file     text not null,
  origin_sheet    text not null,
  origin_row      bigint not null,
  origin_column   text not null,
  primary key (plan, ordinal)
);
comment on table plan.rack_types is 'The rack types of the plan''s racks, those of the planner included';

create table plan.levels (
  plan            bigint not null,
  ordinal         integer not null,
  parent          integer not null,
  level           bigint not null,
  kind            text not null,
  pick_height_nm  bigint not null,
  drop_nm         bigint not null,
  lane_length_nm  bigint not null,
  usable_width_nm bigint not null,
  clear_height_nm bigint not null,
  mass_limit_ug   bigint not null,
  origin_file     text not null,
  origin_sheet    text not null,
  origin_row      bigint not null,
  origin_column   text not null,
  primary key (plan, ordinal),
  foreign key (plan, parent) references plan.rack_types
);

create table plan.racks (
  plan        bigint not null references plan.plans,
  ordinal     integer not null,
  rack        text not null,
  type        integer,
  cell        text not null,
  proposed    boolean not null,
  stations    text[] not null,
  x_nm        bigint not null,
  y_nm        bigint not null,
  place_known boolean not null,
  aisle_point text not null,
  primary key (plan, ordinal),
  foreign key (plan, type) references plan.rack_types (plan, ordinal)
);
comment on column plan.racks.type is 'The ordinal of its rack type';

create table plan.rack_levels (
  plan            bigint not null,
  ordinal         integer not null,
  parent          integer not null,
  level           bigint not null,
  kind            text not null,
  pick_height_nm  bigint not null,
  drop_nm         bigint not null,
  lane_length_nm  bigint not null,
  usable_width_nm bigint not null,
  clear_height_nm bigint not null,
  mass_limit_ug   bigint not null,
  fixed_nm        bigint[] not null,
  origin_file     text not null,
  origin_sheet    text not null,
  origin_row      bigint not null,
  origin_column   text not null,
  primary key (plan, ordinal),
  foreign key (plan, parent) references plan.racks
);

create table plan.lanes (
  plan       bigint not null references plan.plans,
  ordinal    integer not null,
  rack       text not null,
  level      bigint not null,
  lane       bigint not null,
  kind       text not null,
  offset_nm  bigint not null,
  width_nm   bigint not null,
  part       text not null,
  cell       text not null,
  station    text not null,
  flow_side  text not null,
  capacity   bigint not null,
  containers bigint not null,
  primary key (plan, ordinal)
);

create table plan.unplaced (
  plan       bigint not null references plan.plans,
  ordinal    integer not null,
  part       text not null,
  cell       text not null,
  station    text not null,
  containers bigint not null,
  reason     text not null,
  detail     text not null,
  primary key (plan, ordinal)
);

create table plan.bounds (
  plan             bigint not null references plan.plans,
  ordinal          integer not null,
  cell             text not null,
  unplaced         bigint not null,
  unplaced_bound   bigint not null,
  added_cost       double precision not null,
  added_cost_bound double precision not null,
  effort           double precision not null,
  effort_bound     double precision not null,
  optimal          boolean not null,
  stopped          text not null,
  primary key (plan, ordinal)
);

create table plan.balance (
  plan     bigint not null references plan.plans,
  ordinal  integer not null,
  cell     text not null,
  width_nm bigint not null,
  needed   bigint not null,
  placed   bigint not null,
  room     bigint not null,
  primary key (plan, ordinal)
);

create table plan.routes (
  plan            bigint not null references plan.plans,
  ordinal         integer not null,
  route           text not null,
  vehicle         text not null,
  handler         text not null,
  market          text not null,
  interval_ns     bigint not null,
  round_ns        bigint not null,
  travel_nm       bigint not null,
  load_mean       double precision not null,
  load_planned    double precision not null,
  mass_planned_ug bigint not null,
  primary key (plan, ordinal)
);

create table plan.stops (
  plan        bigint not null,
  ordinal     integer not null,
  parent      integer not null,
  rack        text not null,
  aisle_point text not null,
  arrive_ns   bigint not null,
  containers  double precision not null,
  empties     double precision not null,
  primary key (plan, ordinal),
  foreign key (plan, parent) references plan.routes
);

create table plan.stop_loops (
  plan    bigint not null,
  ordinal integer not null,
  parent  integer not null,
  part    text not null,
  cell    text not null,
  station text not null,
  primary key (plan, ordinal),
  foreign key (plan, parent) references plan.stops
);

create table plan.timetable (
  plan          bigint not null,
  ordinal       integer not null,
  parent        integer not null,
  shift         text not null,
  departures_ns bigint[] not null,
  primary key (plan, ordinal),
  foreign key (plan, parent) references plan.routes
);

create table plan.unserved (
  plan    bigint not null references plan.plans,
  ordinal integer not null,
  rack    text not null,
  reason  text not null,
  detail  text not null,
  primary key (plan, ordinal)
);

create table plan.unserved_loops (
  plan    bigint not null,
  ordinal integer not null,
  parent  integer not null,
  part    text not null,
  cell    text not null,
  station text not null,
  primary key (plan, ordinal),
  foreign key (plan, parent) references plan.unserved
);

create table plan.moves (
  plan       bigint not null references plan.plans,
  ordinal    integer not null,
  part       text not null,
  cell       text not null,
  station    text not null,
  from_rack  text,
  from_level bigint,
  from_lane  bigint,
  to_rack    text,
  to_level   bigint,
  to_lane    bigint,
  containers bigint not null,
  primary key (plan, ordinal)
);

create table plan.findings (
  plan              bigint not null references plan.plans,
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
  primary key (plan, ordinal)
);

create table plan.finding_origins (
  plan          bigint not null,
  ordinal       integer not null,
  parent        integer not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (plan, ordinal),
  foreign key (plan, parent) references plan.findings
);

-- +goose Down
drop schema plan cascade;
