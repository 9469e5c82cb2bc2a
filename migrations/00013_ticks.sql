-- What handlers tick off on their rounds. A tick has an id that the device made, so that
-- it may be sent again; it is never changed, and taken back only by another one.

-- +goose Up
create table work.ticks (
  id         uuid primary key,
  plan       bigint not null references plan.plans,
  -- The day on which the shift begins, and the name of the round.
  day        date not null,
  round      text not null,
  -- The device's time, and the server's.
  at         timestamptz not null,
  received   timestamptz not null default now(),
  kind       text not null,
  stop       integer not null,
  level      integer not null,
  lane       integer not null,
  part       text not null,
  containers integer not null,
  reason     text not null,
  note       text not null,
  who        text not null,
  undoes     uuid
);
create index ticks_round on work.ticks (round);
create index ticks_day on work.ticks (day, plan);
create trigger sealed before update or delete or truncate on work.ticks
  for each statement execute function facts.refuse_change();

-- +goose Down
drop table work.ticks;
