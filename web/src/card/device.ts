/** The key of this device as the card shows and uses it. */
import { certificateOf } from "../record/certifying.ts";
import { deviceKey, keepCertificate, makeDeviceKey, type DeviceKey } from "../record/devicekey.ts";
import { act, fault, field, noFaults, SECOND, typed } from "./acts.ts";
import type { Card, Door } from "./app.ts";
import { el } from "./dom.ts";
import type { Sealing } from "./screens_end.ts";
import { sealedVisit } from "./sealing.ts";

export class Device {
  #key: DeviceKey | null = null;
  #possible = false;
  #firm = "";

  /** Read the key anew. */
  async load(): Promise<void> {
    this.#possible = isSecureContext && !!crypto.subtle;
    this.#key = this.#possible ? await deviceKey().catch(() => null) : null;
    const certificate = this.#key?.certificate;
    this.#firm = certificate ? (await certificateOf(new TextEncoder().encode(certificate))).firmName : "";
  }

  sealing(card: () => Card | null): Sealing | null {
    const key = this.#key;
    const certificate = key?.certificate;
    if (!key) return null;
    if (!certificate) return { state: "open", seal: () => Promise.reject(new Error("not certified")) };
    return {
      state: "ready",
      seal: (door: Door) => sealedVisit(door.pack, card()?.eventsOf(door.of.visit) ?? [], new Date(), key, certificate),
    };
  }

  /** What the settings say of the key, and what can be done with it. */
  shown(card: Card): HTMLElement | null {
    const { say } = card.words;
    if (!this.#possible) return null;
    const section = el("section", { class: "card-form" }, el("h2", {}, say("card.settings.key")));
    const again = async () => {
      await this.load();
      card.show();
    };
    if (!this.#key) {
      const make = async () => {
        await makeDeviceKey();
        await again();
      };
      section.append(el("p", {}, say("card.settings.key_none")), act(card, SECOND, say("card.settings.key_make"), () => void make()));
      return section;
    }
    if (this.#firm) {
      section.append(el("p", {}, say("card.settings.key_certified", { firm: this.#firm })), el("p", { class: "card-digest" }, this.#key.publicKey));
      return section;
    }
    section.append(
      el("p", {}, say("card.settings.key_open")),
      el("p", { class: "card-digest" }, this.#key.publicKey),
      field("certificate", say("card.settings.key_certificate_text"), { long: true }),
      act(card, SECOND, say("card.settings.key_certificate"), () => void this.#certified(card, section, again)),
    );
    return section;
  }

  async #certified(card: Card, section: HTMLElement, again: () => Promise<void>): Promise<void> {
    noFaults(section);
    const kept = await keepCertificate(typed(section, "certificate"));
    if (kept === "kept") await again();
    else fault(section, "certificate", card.words.say(`card.settings.key_${kept === "other" ? "other" : "broken"}`));
  }
}
