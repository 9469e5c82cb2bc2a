-- The move list of a plan: what turns today's layout into the plan's, in order.
-- From or to is null for the market; level 0 is the floor beside the rack.

-- +goose Up
create table plan.move_steps (
  plan       bigint not null references plan.plans,
  ordinal    integer not null,
  cell       text not null,
  day        bigint not null,
  shift      text not null,
  step       bigint not null,
  kind       text not null,
  part       text not null,
  station    text not null,
  containers bigint not null,
  time_ns    bigint not null,
  from_rack  text,
  from_level bigint,
  from_lane  bigint,
  to_rack    text,
  to_level   bigint,
  to_lane    bigint,
  primary key (plan, ordinal)
);
-- As the other lists of a plan it is written with the plan and never changed.
create trigger sealed before update or delete or truncate on plan.move_steps
  for each statement execute function facts.refuse_change();
create trigger complete after insert on plan.move_steps
  referencing new table as added
  for each statement execute function plan.refuse_late_rows();

-- +goose Down
drop table plan.move_steps;
