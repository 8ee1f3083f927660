/** What travels between a crew and its threads. Every message carries the number of the errand it belongs to. */

/** Crew → thread. `begin` first, then any number of the others while the errand lasts. */
export type Order =
  | { readonly errand: number; readonly kind: 'begin'; readonly input: unknown }
  | { readonly errand: number; readonly kind: 'told'; readonly message: unknown }
  | { readonly errand: number; readonly kind: 'stop' };

/** Thread → crew: `said` any number of times, then exactly one of the others. */
export type Report =
  | { readonly errand: number; readonly kind: 'said'; readonly message: unknown }
  | { readonly errand: number; readonly kind: 'done'; readonly output: unknown }
  | {
      readonly errand: number;
      readonly kind: 'failed';
      readonly name: string;
      readonly message: string;
      readonly stack: string;
      /** What the error brought along for the crew's own side, such as a problem for whoever asked. */
      readonly facts: unknown;
    };
