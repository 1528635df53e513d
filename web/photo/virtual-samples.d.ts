declare module 'virtual:samples' {
  const names: readonly string[];
  export default names;
  /** Containers beside a coin or disc, which is named as in vision/reference/round-reference.ts. */
  export const coinSamples: readonly { readonly name: string; readonly reference: string }[];
  /** Flat work, with what was counted on it. */
  export const workSamples: readonly {
    readonly name: string;
    readonly piece: 'disc' | 'swatch' | 'tube';
    readonly rounds: number;
    readonly stitches: number;
    readonly rowsRun: 'across' | 'up' | 'longer' | 'shorter' | null;
    /** A coin or disc, named as in vision/reference/round-reference.ts; null for a card. */
    readonly reference: string | null;
  }[];
}
