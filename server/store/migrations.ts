/** The tables, as steps that are applied once and in order. A step is never edited after it was released: add another. */
import type { Database } from "./database.js";

const STEPS: readonly string[] = [
  `
  create table settings (name text primary key, value jsonb not null);

  -- What a caller sent: files, and the parts of a JSON request that are surveys themselves. Variants share one.
  create table surveys (
    id uuid primary key,
    created_at timestamptz not null default now(),
    kept boolean not null default false
  );
  create table survey_files (
    survey_id uuid not null references surveys on delete cascade,
    part text not null,
    name text not null,
    gzip bytea not null,
    primary key (survey_id, part)
  );

  -- Compressed already: trying again only costs time.
  alter table survey_files alter column gzip set storage external;

  create table comparisons (
    id uuid primary key,
    token text not null unique,
    created_at timestamptz not null default now(),
    finished_at timestamptz,
    name text not null,
    defaults jsonb not null,
    webhook jsonb,
    dismissed boolean not null default false
  );

  create table studies (
    id uuid primary key,
    token text not null unique,
    created_at timestamptz not null,
    name text not null,
    survey_id uuid not null references surveys,
    parent_id uuid references studies on delete set null,
    comparison_id uuid references comparisons on delete cascade,
    request jsonb not null,
    contact jsonb,
    stage text not null default 'new',
    summary jsonb not null,
    used jsonb not null
  );
  create index studies_by_time on studies (created_at desc, id desc);
  create index studies_by_survey on studies (survey_id);
  create table documents (
    study_id uuid not null references studies on delete cascade,
    kind text not null,
    gzip bytea not null,
    primary key (study_id, kind)
  );
  alter table documents alter column gzip set storage external;
  create table notes (
    id bigint generated always as identity primary key,
    study_id uuid not null references studies on delete cascade,
    at timestamptz not null default now(),
    stage text,
    note text
  );
  create index notes_by_study on notes (study_id);

  create table jobs (
    id uuid primary key,
    created_at timestamptz not null default now(),
    status text not null default 'accepted',
    message text not null default 'Waiting',
    steps_done integer not null default 0,
    steps_total integer not null,
    survey_id uuid not null references surveys on delete cascade,
    request jsonb not null,
    contact jsonb,
    parent_id uuid,
    study_id uuid not null,
    token text not null,
    problem jsonb
  );

  create table parcels (
    comparison_id uuid not null references comparisons on delete cascade,
    position integer not null,
    ref text not null,
    name text not null,
    request jsonb not null,
    survey_id uuid references surveys on delete set null,
    status text not null default 'accepted',
    study_id uuid references studies on delete set null,
    problem jsonb,
    summary jsonb,
    primary key (comparison_id, position),
    unique (comparison_id, ref)
  );
  create index parcels_by_study on parcels (study_id);

  create table idempotency (
    key text not null,
    route text not null,
    body_hash text not null,
    created_at timestamptz not null default now(),
    status integer,
    location text,
    body text,
    primary key (key, route)
  );

  create table saved_defaults (
    id uuid primary key,
    name text not null unique,
    created_at timestamptz not null default now(),
    request jsonb not null
  );
  create table cost_books (
    id text primary key,
    created_at timestamptz not null default now(),
    book jsonb not null
  );
  `,
  // The hashes of a page's styles, so that its content security policy needs no look into the page.
  "alter table documents add column styles text",
];

/** Brings the database to the newest step. Safe when several processes start at once. */
export async function migrate(db: Database): Promise<void> {
  await db.transaction(async (query) => {
    // One fixed number of our own: whoever holds it migrates, the others wait.
    await query("select pg_advisory_xact_lock(5117011)");
    await query(
      "create table if not exists migrations (step integer primary key, at timestamptz not null default now())",
    );
    const [last] = await query<{ step: number | null }>("select max(step) as step from migrations");
    for (let step = (last?.step ?? 0) + 1; step <= STEPS.length; step++) {
      for (const statement of statements(STEPS[step - 1]!)) await query(statement);
      await query("insert into migrations (step) values ($1)", [step]);
    }
  });
}

/** The embedded database takes one statement at a time inside a transaction; ours hold no semicolons of their own. */
function statements(sql: string): string[] {
  return sql
    .replace(/--.*$/gm, "")
    .split(";")
    .map((s) => s.trim())
    .filter(Boolean);
}
