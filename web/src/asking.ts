/** Requests that change something: our own header, one shape for every outcome. */

/** A page elsewhere cannot send this header without being allowed to. */
export const OURS = { "Limen-Desk": "1" } as const;

export type Answer =
  | { kind: "done"; status: number; version: string | null; body: unknown }
  | { kind: "clash"; body: unknown }
  | { kind: "refused"; status: number; body: unknown }
  | { kind: "unanswered"; says?: string }
  | { kind: "dropped" };

export interface Request {
  json?: unknown;
  text?: string;
  form?: URLSearchParams;
  /** Files among fields. */
  parts?: FormData;
  ifMatch?: string;
  signal?: AbortSignal;
}

/**
 * Send and wait. Never throws: without a connection, or from a server that cannot keep
 * anything now, the answer is `unanswered`; a request given up by its signal is `dropped`.
 */
export async function send(method: string, url: string, what: Request = {}): Promise<Answer> {
  let reply: Response;
  try {
    reply = await fetch(url, {
      method,
      headers: headersOf(what),
      credentials: "same-origin",
      redirect: "error",
      ...bodyOf(what),
      ...(what.signal ? { signal: what.signal } : {}),
    });
    return answer(reply, await bodyIn(reply));
  } catch (why) {
    const dropped = why instanceof DOMException && why.name === "AbortError";
    return { kind: dropped ? "dropped" : "unanswered" };
  }
}

/** Why a server could not, if it said so. */
export function says(answer: Answer): string | null {
  return answer.kind === "unanswered" ? (answer.says ?? null) : null;
}

function headersOf(what: Request): Record<string, string> {
  const headers: Record<string, string> = { ...OURS };
  if (what.json !== undefined) headers["Content-Type"] = "application/json";
  if (what.text !== undefined) headers["Content-Type"] = "application/toml";
  if (what.ifMatch !== undefined) headers["If-Match"] = what.ifMatch;
  return headers;
}

function bodyOf(what: Request): { body?: string | URLSearchParams | FormData } {
  if (what.parts !== undefined) return { body: what.parts };
  if (what.json !== undefined) return { body: JSON.stringify(what.json) };
  if (what.form !== undefined) return { body: what.form };
  return what.text === undefined ? {} : { body: what.text };
}

async function bodyIn(reply: Response): Promise<unknown> {
  const json = reply.headers.get("Content-Type")?.includes("json") ?? false;
  return json ? reply.json() : reply.text();
}

function answer(reply: Response, body: unknown): Answer {
  if (reply.ok) {
    return { kind: "done", status: reply.status, version: reply.headers.get("ETag"), body };
  }
  if (reply.status === 412) return { kind: "clash", body };
  // Not the request is at fault: the same may be sent again.
  if (reply.status >= 500) return { kind: "unanswered", ...saidBy(body) };
  return { kind: "refused", status: reply.status, body };
}

/** The server's own words for why it could not: the disk is full, or held. */
function saidBy(body: unknown): { says?: string } {
  const lines = (body as { lines?: unknown } | null)?.lines;
  return Array.isArray(lines) && lines.length ? { says: lines.join(" ") } : {};
}
