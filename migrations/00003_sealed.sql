-- Revisions and plans are append-only: no row of theirs is changed or removed,
-- and none is added after the transaction that wrote the revision or plan.

-- +goose Up
-- +goose StatementBegin
create function facts.refuse_change() returns trigger language plpgsql as $$
begin
  raise exception '%.% is append-only: % refused', tg_table_schema, tg_table_name, lower(tg_op)
    using errcode = 'restrict_violation';
end $$;
-- +goose StatementEnd

-- +goose StatementBegin
create function facts.refuse_late_rows() returns trigger language plpgsql as $$
begin
  perform from added a join facts.revisions r on r.id = a.revision
    where r.written_by <> pg_current_xact_id();
  if found then
    raise exception 'a stored revision takes no more rows in %.%', tg_table_schema, tg_table_name
      using errcode = 'restrict_violation';
  end if;
  return null;
end $$;
-- +goose StatementEnd

-- +goose StatementBegin
create function plan.refuse_late_rows() returns trigger language plpgsql as $$
begin
  perform from added a join plan.plans p on p.id = a.plan
    where p.written_by <> pg_current_xact_id();
  if found then
    raise exception 'a stored plan takes no more rows in %.%', tg_table_schema, tg_table_name
      using errcode = 'restrict_violation';
  end if;
  return null;
end $$;
-- +goose StatementEnd

-- +goose StatementBegin
do $$
declare
  t record;
begin
  for t in select schemaname as s, tablename as n from pg_tables
    where schemaname in ('facts', 'plan') and (schemaname, tablename) <> ('facts', 'plants')
    order by 1, 2
  loop
    execute format('create trigger sealed before update or delete or truncate on %I.%I
      for each statement execute function facts.refuse_change()', t.s, t.n);
    continue when t.n in ('revisions', 'plans');
    execute format('create trigger complete after insert on %I.%I
      referencing new table as added
      for each statement execute function %I.refuse_late_rows()', t.s, t.n, t.s);
  end loop;
end $$;
-- +goose StatementEnd

-- +goose Down
drop function facts.refuse_change() cascade;
drop function facts.refuse_late_rows() cascade;
drop function plan.refuse_late_rows() cascade;
