-- Runs: the making of plans, shared by any number of workers.

-- +goose Up
create schema work;
comment on schema work is 'Runs that make plans';

create table work.runs (
  number         bigint generated always as identity primary key,
  id             text not null unique,
  plant          bigint not null references facts.plants,
  revision       bigint not null references facts.revisions,
  -- What was asked for: 0 is the latest revision.
  asked_revision integer not null,
  settings       jsonb not null,
  request_key    text not null,
  state          text not null default 'queued'
                 check (state in ('queued', 'running', 'done', 'failed', 'cancelled')),
  stage          text not null default '',
  done           bigint not null default 0,
  total          bigint not null default 0,
  plan           bigint references plan.plans,
  error          text not null default '',
  created        timestamptz not null default now(),
  started        timestamptz,
  finished       timestamptz,
  -- Who works on it, until when nobody else may, and how often it was claimed.
  worker         text not null default '',
  lease_until    timestamptz,
  attempt        integer not null default 0,
  cancel         boolean not null default false,
  sequence       bigint not null default 0,
  check ((state = 'done') = (plan is not null)),
  check ((state = 'running') = (lease_until is not null))
);
create unique index runs_request on work.runs (plant, request_key) where request_key <> '';
create index runs_open on work.runs (number) where state in ('queued', 'running');
create index runs_plant on work.runs (plant, number);

-- +goose StatementBegin
create function work.tell() returns trigger language plpgsql as $$
begin
  new.sequence := new.sequence + 1;
  perform pg_notify('lanewright_runs', new.id);
  return new;
end $$;
-- +goose StatementEnd

create trigger tell before insert or update on work.runs
  for each row execute function work.tell();

-- +goose Down
drop schema work cascade;
