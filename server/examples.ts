/** The invented lots of demo-data, offered to try. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import type { RequestInput } from "../analysis/request/index.js";
import { rootPath } from "./root.js";
import { checkRequest } from "./submission.js";
import type { Submission } from "./tasks/work.js";

const FILES = ["topo.csv", "boundary.csv", "request.json"] as const;

export interface Example extends Submission {
  readonly id: string;
  readonly name: string;
  readonly about: string;
  readonly input: RequestInput;
}

/** Read once at start: the folders are part of the program. */
export function readExamples(): Example[] {
  const folder = rootPath("demo-data");
  const abouts = new Map(
    [...readFileSync(`${folder}/README.md`, "utf8").matchAll(/^\| `([\w-]+)` \| (.+?) \|$/gm)].map(
      ([, id, about]) => [id, about] as const,
    ),
  );
  return readdirSync(folder)
    .filter((id) => FILES.every((file) => existsSync(`${folder}/${id}/${file}`)))
    .sort()
    .map((id) => {
      const read = (name: string) => ({
        name,
        bytes: new Uint8Array(readFileSync(`${folder}/${id}/${name}`)),
      });
      const input = checkRequest(JSON.parse(readFileSync(`${folder}/${id}/request.json`, "utf8")));
      return {
        id,
        name: input.name ?? id,
        about: abouts.get(id) ?? "",
        input,
        files: { topo: read("topo.csv"), boundary: read("boundary.csv") },
      };
    });
}
