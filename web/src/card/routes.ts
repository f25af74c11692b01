/** Where in the card one is: an address after the `#`, so that no server is asked. */

export type Place =
  | { at: "home" }
  | { at: "take"; site: string; doorway: string; owed: boolean }
  | { at: "settings" }
  | { at: "door"; key: string; screen: string; id: string };

export function placeOf(hash: string): Place {
  const [first = "", site = "", doorway = "", screen = "", id = ""] = hash
    .replace(/^#\/?/, "")
    .split("/")
    .map(decoded);
  if (first === "take" && site && doorway) return { at: "take", site, doorway, owed: screen === "owed" };
  if (first === "settings") return { at: "settings" };
  if (first === "door" && site && doorway) return { at: "door", key: `${site}/${doorway}`, screen: screen || "next", id };
  return { at: "home" };
}

/** The address of a screen of a doorway; without a screen, of what comes next there. */
export function toDoor(key: string, screen = "", id = ""): string {
  const parts = [...key.split("/"), screen, id].filter((one) => one !== "");
  return `#/door/${parts.map(encodeURIComponent).join("/")}`;
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return "";
  }
}
