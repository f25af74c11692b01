/**
 * How the records of a door hang together: each names those it was made after. A chain
 * cannot show that its last link is missing, so the digests of the last ones stand on
 * the owner's page.
 */
import type { Table } from "./canonical.ts";

/** By digest of a sealed record, the digests of those it names as its parents. */
export type Parents = ReadonlyMap<string, readonly string[]>;

export interface Chain {
  /** The last ones: those that no record names. */
  readonly heads: readonly string[];
  /** Digests that are named and not there. */
  readonly missing: readonly string[];
}

export function chained(parents: Parents): Chain {
  const named = new Set([...parents.values()].flat());
  return {
    heads: [...parents.keys()].filter((one) => !named.has(one)).sort(),
    missing: [...named].filter((one) => !parents.has(one)).sort(),
  };
}

/** The parents that a record names. */
export function parentsOf(record: Table): string[] {
  const named = record["parents"];
  return Array.isArray(named) ? named.filter((one) => typeof one === "string") : [];
}
