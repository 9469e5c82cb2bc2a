-- Drafts: edits made by hand on a plan, step by step, by one or more people. The plans
-- that they became, and which plan the floor of a plant works to. Units as in the facts.

-- +goose Up
create table work.drafts (
  id          bigint generated always as identity primary key,
  plan        bigint not null references plan.plans,
  name        text not null,
  made_by     text not null,
  created     timestamptz not null default now(),
  changed     timestamptz not null default now(),
  version     bigint not null default 0,
  published   bigint references plan.plans,
  request_key text not null
);
create index drafts_plan on work.drafts (plan, id);
create unique index drafts_request on work.drafts (plan, request_key) where request_key <> '';

create table work.draft_steps (
  draft       bigint not null references work.drafts on delete cascade,
  version     bigint not null,
  kind        text not null check (kind in ('edit', 'undo', 'redo')),
  made_by     text not null,
  made        timestamptz not null default now(),
  request_key text not null,
  primary key (draft, version)
);
create unique index draft_steps_request on work.draft_steps (draft, request_key) where request_key <> '';

create table work.draft_edits (
  draft        bigint not null,
  ordinal      integer not null,
  version      bigint not null,
  kind         text not null,
  part         text not null,
  cell         text not null,
  station      text not null,
  with_part    text not null,
  with_cell    text not null,
  with_station text not null,
  rack         text not null,
  level        bigint not null,
  lane         bigint not null,
  from_rack    text not null,
  from_level   bigint not null,
  from_lane    bigint not null,
  containers   bigint not null,
  flow_side    text not null,
  container    text not null,
  pack         bigint not null,
  interval_ns  bigint not null,
  primary key (draft, version, ordinal),
  foreign key (draft, version) references work.draft_steps on delete cascade
);

alter table plan.plans
  add column edited_from bigint references plan.plans,
  add column draft bigint references work.drafts;

create table plan.edits (
  plan         bigint not null references plan.plans,
  ordinal      integer not null,
  held         boolean not null,
  kind         text not null,
  part         text not null,
  cell         text not null,
  station      text not null,
  with_part    text not null,
  with_cell    text not null,
  with_station text not null,
  rack         text not null,
  level        bigint not null,
  lane         bigint not null,
  from_rack    text not null,
  from_level   bigint not null,
  from_lane    bigint not null,
  containers   bigint not null,
  flow_side    text not null,
  container    text not null,
  pack         bigint not null,
  interval_ns  bigint not null,
  primary key (plan, ordinal)
);
comment on table plan.edits is 'What was changed by hand to make the plan, and what of it still counts (held)';

create table work.publications (
  id            bigint generated always as identity primary key,
  plant         bigint not null references facts.plants,
  plan          bigint not null references plan.plans,
  draft         bigint references work.drafts,
  before_plan   bigint references plan.plans,
  published_by  text not null,
  note          text not null,
  created       timestamptz not null default now(),
  accepted      text[] not null,
  racks         bigint not null,
  lanes         bigint not null,
  loops         bigint not null,
  containers    bigint not null,
  request_key   text not null
);
comment on table work.publications is 'Which plan the floor of a plant works to: the latest of the plant. What changed against the plan before';
create index publications_plant on work.publications (plant, id);
create unique index publications_request on work.publications (plant, request_key) where request_key <> '';

-- As plans they are never changed once written.
create trigger sealed before update or delete or truncate on plan.edits
  for each statement execute function facts.refuse_change();
create trigger complete after insert on plan.edits
  referencing new table as added
  for each statement execute function plan.refuse_late_rows();
create trigger sealed before update or delete or truncate on work.publications
  for each statement execute function facts.refuse_change();

-- +goose Down
drop table work.publications;
drop table plan.edits;
alter table plan.plans drop column draft, drop column edited_from;
drop table work.draft_edits;
drop table work.draft_steps;
drop table work.drafts;
