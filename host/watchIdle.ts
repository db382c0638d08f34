export type IdleWatch = { begin(): void; end(): void; stop(): void };

/**
 * Calls `stop` once no request has been under way for a while.
 * @param idleMs - how long, in ms
 */
export function watchIdle(idleMs: number, stop: () => void): IdleWatch {
  let underWay = 0;
  let timer = setTimeout(stop, idleMs);
  return {
    begin() {
      underWay++;
      clearTimeout(timer);
    },
    end() {
      underWay--;
      if (underWay > 0) return;
      clearTimeout(timer);
      timer = setTimeout(stop, idleMs);
    },
    stop: () => clearTimeout(timer),
  };
}
