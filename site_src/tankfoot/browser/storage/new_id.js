/** Ids that nobody else makes: RFC 9562, version 4. */

/** A browser gives none itself where the page came without HTTPS, as for a first look in the local network. */
export function newId() {
  return globalThis.isSecureContext ? crypto.randomUUID() : uuid(crypto.getRandomValues(new Uint8Array(16)));
}

function uuid(bytes) {
  bytes[6] = (bytes[6] & 0x0f) | 0x40; // version 4
  bytes[8] = (bytes[8] & 0x3f) | 0x80; // the variant
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}
