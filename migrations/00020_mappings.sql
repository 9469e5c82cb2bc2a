-- What the columns of a plant's own sheets mean: one small text for each shape
-- of file. A later text for the same shape takes the place of the earlier one.

-- +goose Up
create table work.mappings (
  plant   bigint not null references facts.plants,
  shape   text not null,
  text    text not null,
  created timestamptz not null default now(),
  primary key (plant, shape)
);

-- +goose Down
drop table work.mappings;
