/** What the rooms without a screen take from the browser, and no more. */

declare const crypto: { subtle: { digest(name: "SHA-256", bytes: Uint8Array): Promise<ArrayBuffer> } };
declare class TextEncoder { encode(text: string): Uint8Array }
declare class TextDecoder {
  constructor(encoding: string, options: { fatal: boolean });
  decode(bytes: ArrayBuffer): string;
}
declare function atob(text: string): string;
declare function btoa(bytes: string): string;
