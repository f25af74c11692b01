/**
 * What the card keeps: packs taken along, every event, photos. A tap counts only once
 * its transaction is over; whatever fails is told, and nothing is shown as kept.
 */
import type { Draft, Event, Of } from "./events.ts";
import type { Pack } from "./pack.ts";

export interface Photo {
  sha256: string;
  /** The picture as a JPEG file. */
  file: Blob;
  visit: string;
  site: string;
  doorway: string;
  sent: boolean;
}

/** A doorway taken along, with the visit that is under way there. */
export interface Taken {
  key: string;
  pack: Pack;
  /** The visit under way; its events name it. */
  visit: string;
  /** When it was taken along, as the device's clock said. */
  at: string;
}

/** What the person chose; kept on this device alone. */
export interface Choices {
  person: string;
  left: boolean;
  theme: "device" | "paper" | "slate";
  awake: boolean;
}

export const CHOICES: Choices = { person: "", left: false, theme: "device", awake: true };

/** A sealed record of a visit, as this device made it. */
export interface SealedHere {
  visit: string;
  site: string;
  doorway: string;
  text: string;
  sent: boolean;
}

export interface Store {
  taken(): Promise<Taken[]>;
  take(pack: Pack, visit: string, at: string): Promise<Taken>;
  leave(key: string): Promise<void>;
  /** Every event that is kept, of all visits, in this device's order. */
  events(): Promise<Event[]>;
  /** Keep what was said, each with the next number of this device, all or none. */
  keep(drafts: readonly Draft[], of: Of, at: string, photo?: Photo, sealed?: SealedHere): Promise<Event[]>;
  photos(): Promise<Photo[]>;
  photoSent(sha256: string): Promise<void>;
  sealed(): Promise<SealedHere[]>;
  sealedSent(visit: string): Promise<void>;
  /** The highest number that the desk has of this device. */
  sent(): Promise<number>;
  setSent(seq: number): Promise<void>;
  choices(): Promise<Choices>;
  setChoices(choices: Choices): Promise<void>;
}

/** Nothing can be kept here: the browser refused, or its disk is full. */
export class NotKept extends Error {
  readonly why: "refused" | "full";

  constructor(cause: unknown) {
    const full = cause instanceof DOMException && cause.name === "QuotaExceededError";
    super(full ? "full" : "refused", { cause });
    this.why = full ? "full" : "refused";
  }
}
