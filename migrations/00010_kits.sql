-- The kits that a plant builds its racks from, and their parts.

-- +goose Up
create table facts.kits (
  revision          bigint not null references facts.revisions,
  ordinal           integer not null,
  kit               text not null,
  description       text not null,
  cut_step_nm       bigint not null,
  kerf_nm           bigint not null,
  hole_pitch_nm     bigint not null,
  first_hole_nm     bigint not null,
  hole_diameter_nm  bigint not null,
  hole_walls        text not null,
  rollers_under     bigint not null,
  side_clearance_nm bigint not null,
  return_slope      text not null,
  centre_support_nm bigint not null,
  origin_file       text not null,
  origin_sheet      text not null,
  origin_row        bigint not null,
  origin_column     text not null,
  primary key (revision, ordinal)
);

create table facts.kit_parts (
  revision                   bigint not null,
  ordinal                    integer not null,
  parent                     integer not null,
  part                       text not null,
  kind                       text not null,
  description                text not null,
  uses                       text[] not null,
  shape                      text not null,
  width_nm                   bigint not null,
  height_nm                  bigint not null,
  wall_nm                    bigint not null,
  corner_radius_nm           bigint not null,
  stock_lengths_nm           bigint[] not null,
  pitch_nm                   bigint not null,
  mass_ug                    bigint not null,
  mass_per_metre_ug          bigint not null,
  price_millionths           bigint not null,
  price_per_metre_millionths bigint not null,
  material                   text not null,
  yield_pa                   bigint not null,
  modulus_pa                 bigint not null,
  mass_limit_ug              bigint not null,
  per_joint                  bigint not null,
  origin_file                text not null,
  origin_sheet               text not null,
  origin_row                 bigint not null,
  origin_column              text not null,
  primary key (revision, ordinal),
  foreign key (revision, parent) references facts.kits
);

-- As the other facts they are written with their revision and never changed.
create trigger sealed before update or delete or truncate on facts.kits
  for each statement execute function facts.refuse_change();
create trigger complete after insert on facts.kits
  referencing new table as added
  for each statement execute function facts.refuse_late_rows();
create trigger sealed before update or delete or truncate on facts.kit_parts
  for each statement execute function facts.refuse_change();
create trigger complete after insert on facts.kit_parts
  referencing new table as added
  for each statement execute function facts.refuse_late_rows();

-- +goose Down
drop table facts.kit_parts;
drop table facts.kits;
