-- Turns, today's routes and rules about routes; who may use an aisle and how.
-- Facts of before say nothing of them.

-- +goose Up
alter table facts.aisle_points add column places bigint not null default 0;
alter table facts.aisle_points alter column places drop default;
alter table facts.aisles
  add column traffic     text not null default '',
  add column single_file boolean not null default false,
  add column no_turning  boolean not null default false;
alter table facts.aisles
  alter column traffic drop default,
  alter column single_file drop default,
  alter column no_turning drop default;
alter table facts.vehicles
  add column on_foot boolean not null default false,
  add column parking text not null default '';
alter table facts.vehicles
  alter column on_foot drop default,
  alter column parking drop default;

create table facts.turns (
  revision   bigint not null references facts.revisions,
  ordinal    integer not null,
  from_point text not null,
  at_point   text not null,
  to_point   text not null,
  allowed    boolean not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.current_stops (
  revision    bigint not null references facts.revisions,
  ordinal     integer not null,
  route       text not null,
  stop        bigint not null,
  rack        text not null,
  vehicle     text not null,
  interval_ns bigint not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

create table facts.route_rules (
  revision   bigint not null references facts.revisions,
  ordinal    integer not null,
  kind       text not null,
  rack       text not null,
  other_rack text not null,
  route      text not null,
  from_point text not null,
  to_point   text not null,
  reason     text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

-- As the other lists of a revision they are written with it and never changed.
create trigger sealed before update or delete or truncate on facts.turns
  for each statement execute function facts.refuse_change();
create trigger complete after insert on facts.turns
  referencing new table as added
  for each statement execute function facts.refuse_late_rows();
create trigger sealed before update or delete or truncate on facts.current_stops
  for each statement execute function facts.refuse_change();
create trigger complete after insert on facts.current_stops
  referencing new table as added
  for each statement execute function facts.refuse_late_rows();
create trigger sealed before update or delete or truncate on facts.route_rules
  for each statement execute function facts.refuse_change();
create trigger complete after insert on facts.route_rules
  referencing new table as added
  for each statement execute function facts.refuse_late_rows();

-- +goose Down
drop table facts.route_rules;
drop table facts.current_stops;
drop table facts.turns;
alter table facts.vehicles drop column parking, drop column on_foot;
alter table facts.aisles drop column no_turning, drop column single_file, drop column traffic;
alter table facts.aisle_points drop column places;
