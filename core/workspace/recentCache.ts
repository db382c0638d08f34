/** Keeps the values that were asked for last, up to a number of them. */
export class RecentCache<K, V> {
  readonly #capacity: number;
  readonly #values = new Map<K, V>();

  constructor(capacity: number) {
    this.#capacity = capacity;
  }

  /** The value of a key, made where it is not at hand. What `make` throws is not kept. */
  async get(key: K, make: () => V | Promise<V>): Promise<V> {
    const value = this.#values.has(key) ? this.#values.get(key)! : await make();
    this.keep(key, value);
    return value;
  }

  /** Keeps a value that is at hand. */
  keep(key: K, value: V): void {
    this.#values.delete(key);
    this.#values.set(key, value);
    if (this.#values.size > this.#capacity) this.#values.delete(this.#values.keys().next().value!);
  }
}
