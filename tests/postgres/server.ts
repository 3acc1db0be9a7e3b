/** A PostgreSQL of Debian's, in a folder of its own, for one test file. */
import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";

export interface TestPostgres {
  readonly url: string;
  readonly version: number;
  readonly stop: () => Promise<void>;
}

export async function startPostgres(): Promise<TestPostgres> {
  const bin = binFolder();
  const folder = mkdtempSync(join(tmpdir(), "lotbrief-pg-"));
  // PostgreSQL refuses to run as root: Debian's package brings a user for it.
  const user = process.getuid?.() === 0 ? postgresUser() : undefined;
  if (user) chownSync(folder, user.uid, user.gid);
  const as = user ?? {};
  const data = join(folder, "data");
  execFileSync(
    join(bin, "initdb"),
    ["-D", data, "-U", "lotbrief", "-A", "trust", "-E", "UTF8", "--no-sync"],
    { stdio: "ignore", ...as },
  );
  const port = await freePort();
  const server = spawn(
    join(bin, "postgres"),
    [
      "-D",
      data,
      "-p",
      String(port),
      "-c",
      "listen_addresses=127.0.0.1",
      "-c",
      `unix_socket_directories=${folder}`,
      "-c",
      "fsync=off",
    ],
    { stdio: "ignore", ...as },
  );
  const url = `postgres://lotbrief@127.0.0.1:${port}/postgres`;
  const version = await untilReady(url);
  return {
    url,
    version,
    stop: async () => {
      await ended(server);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function binFolder(): string {
  const root = "/usr/lib/postgresql";
  const versions = existsSync(root) ? readdirSync(root).sort((a, b) => Number(b) - Number(a)) : [];
  const found = versions
    .map((version) => `${root}/${version}/bin`)
    .find((bin) => existsSync(`${bin}/initdb`));
  if (!found) throw new Error("PostgreSQL is missing: install Debian's package postgresql");
  return found;
}

function postgresUser(): { uid: number; gid: number } {
  const id = (flag: string) => Number(execFileSync("id", [flag, "postgres"], { encoding: "utf8" }));
  return { uid: id("-u"), gid: id("-g") };
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const probe = createServer().listen(0, "127.0.0.1", () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === "object" && address ? address.port : 0));
    });
  });
}

/** @returns the server's major version. */
async function untilReady(url: string): Promise<number> {
  for (let i = 0; ; i++) {
    const client = new pg.Client({ connectionString: url });
    try {
      await client.connect();
      const { rows } = await client.query("show server_version_num");
      return Math.floor(Number(rows[0].server_version_num) / 10_000);
    } catch (error) {
      if (i > 150) throw error;
      await new Promise((resolve) => setTimeout(resolve, 200));
    } finally {
      await client.end().catch(() => {});
    }
  }
}

function ended(server: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    server.once("exit", () => resolve());
    // SIGINT: PostgreSQL's fast shutdown.
    server.kill("SIGINT");
  });
}
