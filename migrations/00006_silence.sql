-- A run is given up when its workers went silent too often. One that a worker
-- handed back, as it does when its program is asked to stop, waits like a new
-- one and is not held against the run.

-- +goose Up
alter table work.runs add column silent integer not null default 0;
comment on column work.runs.silent is 'How many workers let their lease of it pass';

-- +goose Down
alter table work.runs drop column silent;
