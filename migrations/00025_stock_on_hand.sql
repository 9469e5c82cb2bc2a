-- What lies in the store to cut racks from. Facts of before say nothing of it.

-- +goose Up
create table facts.stock_on_hand (
  revision      bigint not null references facts.revisions,
  ordinal       integer not null,
  part          text not null,
  length_nm     bigint not null,
  count         bigint not null,
  place         text not null,
  origin_file   text not null,
  origin_sheet  text not null,
  origin_row    bigint not null,
  origin_column text not null,
  primary key (revision, ordinal)
);

-- As the other facts it is written with its revision and never changed.
create trigger sealed before update or delete or truncate on facts.stock_on_hand
  for each statement execute function facts.refuse_change();
create trigger complete after insert on facts.stock_on_hand
  referencing new table as added
  for each statement execute function facts.refuse_late_rows();

-- +goose Down
drop table facts.stock_on_hand;
