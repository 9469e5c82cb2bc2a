-- Plants and the revisions of their facts: what people handed in, as read.
--
-- Lengths are whole nanometres (_nm), masses whole micrograms (_ug), times
-- whole nanoseconds (_ns) and money millionths of the plant's currency. Ratios
-- are text in their exact form: "0.995" or "1/3". The schema report shows the
-- same in mm, kg, minutes and numbers. ordinal keeps the order of the sheet;
-- parent is the ordinal of the row that a row belongs to; origin_* is the place
-- where the fact stood.

-- +goose Up
create schema facts;
comment on schema facts is 'Plants and the revisions of their facts, never changed once written';

create table facts.plants (
  id      bigint generated always as identity primary key,
  name    text not null unique check (name <> ''),
  created timestamptz not null default now()
);

create table facts.revisions (
  id         bigint generated always as identity primary key,
  plant      bigint not null references facts.plants,
  number     integer not null check (number > 0),
  hash       text not null,
  plant_name text not null,
  errors     bigint not null,
  warnings   bigint not null,
  notes      bigint not null,
  created    timestamptz not null default now(),
  -- The transaction that wrote the revision: only it may add rows to it.
  written_by xid8 not null default pg_current_xact_id(),
  unique (plant, number)
);

create table facts.sheets (
  revision bigint not null references facts.revisions,
  ordinal  integer not null,
  file     text not null,
  sheet    text not null,
  rows     bigint not null,
  used     bigint not null,
  reported bigint not null,
  skipped  bigint not null,
  primary key (revision, ordinal)
);
comment on table facts.sheets is 'The ledger of each sheet: rows = used + reported + skipped';

create table facts.columns (
  revision bigint not null references facts.revisions,
  ordinal  integer not null,
  file     text not null,
  sheet    text not null,
  field    text not null,
  letters  text not null,
  heading  text not null,
  primary key (revision, ordinal)
);
comment on table facts.columns is 'Under which heading each canonical column was found';

create table facts.settings (
  revision            bigint not null references facts.revisions,
  ordinal             integer not null,
  length_unit         text not null,
  mass_unit           text not null,
  time_zone           text not null,
  interval_ns         bigint not null,
  response_ns         bigint not null,
  service_level       text not null,
  safety              text not null,
  interval_choices_ns bigint[] not null,
  side_clearance_nm   bigint not null,
  guide_width_nm      bigint not null,
  hand_clearance_nm   bigint not null,
  roller_pitch_nm     bigint not null,
  fill_limit          text not null,
  load_limit          text not null,
  busy_limit          text not null,
  seed                numeric(20) not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.shifts (
  revision bigint not null references facts.revisions,
  ordinal  integer not null,
  shift    text not null,
  days     text not null,
  start_ns bigint not null,
  end_ns   bigint not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.breaks (
  revision  bigint not null,
  ordinal   integer not null,
  parent    integer not null,
  start_ns  bigint not null,
  length_ns bigint not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal),
  foreign key (revision, parent) references facts.shifts
);

create table facts.products (
  revision      bigint not null references facts.revisions,
  ordinal       integer not null,
  product       text not null,
  description   text not null,
  units_per_day text not null,
  variation     text not null,
  cell          text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.usage (
  revision        bigint not null references facts.revisions,
  ordinal         integer not null,
  product         text not null,
  part            text not null,
  cell            text not null,
  station         text not null,
  pieces_per_unit text not null,
  pieces_per_hour text not null,
  pieces_per_day  text not null,
  variation       text not null,
  scrap           text not null,
  interval_ns     bigint not null,
  response_ns     bigint not null,
  service_level   text not null,
  safety          text,
  model           text not null,
  containers      bigint not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.history (
  revision bigint not null references facts.revisions,
  ordinal  integer not null,
  product  text not null,
  part     text not null,
  date     date not null,
  units    text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.parts (
  revision             bigint not null references facts.revisions,
  ordinal              integer not null,
  part                 text not null,
  description          text not null,
  piece_mass_ug        bigint not null,
  container            text not null,
  pack                 bigint not null,
  market_address       text not null,
  unit_cost_millionths bigint not null,
  two_hands            boolean not null,
  keep_apart           text not null,
  look_alike           text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.containers (
  revision       bigint not null references facts.revisions,
  ordinal        integer not null,
  container      text not null,
  description    text not null,
  length_nm      bigint not null,
  width_nm       bigint not null,
  height_nm      bigint not null,
  empty_mass_ug  bigint not null,
  gross_limit_ug bigint not null,
  returnable     boolean not null,
  flow_side      text not null,
  handles        text not null,
  nests          text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.cells (
  revision       bigint not null references facts.revisions,
  ordinal        integer not null,
  cell           text not null,
  name           text not null,
  area           text not null,
  shifts         text[] not null,
  frontage_nm    bigint not null,
  rack_types     text[] not null,
  new_rack_x_nm  bigint,
  new_rack_y_nm  bigint,
  new_rack_point text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.stations (
  revision      bigint not null references facts.revisions,
  ordinal       integer not null,
  station       text not null,
  cell          text not null,
  x_nm          bigint,
  y_nm          bigint,
  walk_limit_nm bigint not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.rack_types (
  revision        bigint not null references facts.revisions,
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
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.levels (
  revision        bigint not null,
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
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal),
  foreign key (revision, parent) references facts.rack_types
);

create table facts.racks (
  revision    bigint not null references facts.revisions,
  ordinal     integer not null,
  rack        text not null,
  rack_type   text not null,
  cell        text not null,
  stations    text[] not null,
  x_nm        bigint,
  y_nm        bigint,
  aisle_point text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.fixed_lanes (
  revision  bigint not null,
  ordinal   integer not null,
  parent    integer not null,
  level     bigint not null,
  widths_nm bigint[] not null,
  primary key (revision, ordinal),
  foreign key (revision, parent) references facts.racks
);

create table facts.aisle_points (
  revision bigint not null references facts.revisions,
  ordinal  integer not null,
  point    text not null,
  x_nm     bigint not null,
  y_nm     bigint not null,
  kind     text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.aisles (
  revision         bigint not null references facts.revisions,
  ordinal          integer not null,
  from_point       text not null,
  to_point         text not null,
  length_nm        bigint not null,
  one_way          boolean not null,
  speed_limit_nm_s bigint not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.vehicles (
  revision       bigint not null references facts.revisions,
  ordinal        integer not null,
  vehicle        text not null,
  count          bigint not null,
  containers     bigint not null,
  mass_limit_ug  bigint not null,
  speed_nm_s     bigint not null,
  stop_time_ns   bigint not null,
  load_time_ns   bigint not null,
  unload_time_ns bigint not null,
  empty_time_ns  bigint not null,
  from_point     text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.current_lanes (
  revision   bigint not null references facts.revisions,
  ordinal    integer not null,
  rack       text not null,
  level      bigint not null,
  lane       bigint not null,
  part       text not null,
  station    text not null,
  containers bigint not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.pins (
  revision bigint not null references facts.revisions,
  ordinal  integer not null,
  part     text not null,
  station  text not null,
  rack     text not null,
  level    bigint not null,
  lane     bigint not null,
  reason   text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.findings (
  revision          bigint not null references facts.revisions,
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
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.finding_origins (
  revision bigint not null,
  ordinal  integer not null,
  parent   integer not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal),
  foreign key (revision, parent) references facts.findings
);
comment on table facts.finding_origins is 'Further places that a finding names';

-- +goose Down
drop schema facts cascade;
