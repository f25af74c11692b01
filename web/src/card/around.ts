/** What the browser lends: room that lasts, a screen that stays on, work without network. */

/** Whether what is kept here stays when room is short; asks for it. */
export async function lasting(): Promise<boolean> {
  try {
    return (await navigator.storage?.persisted?.()) || (await navigator.storage?.persist?.()) || false;
  } catch {
    return false;
  }
}

/** Keep the screen on while the card is seen, where it is wished and can be. */
export function keepAwake(wished: () => boolean): void {
  let lock: WakeLockSentinel | null = null;
  const again = async () => {
    if (document.hidden || !wished() || (lock && !lock.released)) return;
    try {
      lock = await navigator.wakeLock.request("screen");
    } catch {
      lock = null; // no such lock here, or the battery is low: the screen goes its own way
    }
  };
  document.addEventListener("visibilitychange", () => void again());
  document.addEventListener("pointerdown", () => {
    if (wished()) void again();
    else void lock?.release();
  });
  void again();
}

/** Make the page ready to work without network; whether it is. */
export async function offline(): Promise<boolean> {
  try {
    await navigator.serviceWorker.register("/sw.js", { scope: "/", type: "classic" });
    await navigator.serviceWorker.ready;
    return true;
  } catch {
    return false;
  }
}
