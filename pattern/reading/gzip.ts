/** Whether bytes are packed by gzip (RFC 1952), as an SVG saved as svgz is. */
export const isPacked = (bytes: Uint8Array): boolean => bytes[0] === 0x1f && bytes[1] === 0x8b;

/** What gzip packed, unpacked no further than `most` bytes. */
export async function unpacked(
  bytes: Uint8Array,
  most: number,
): Promise<Uint8Array | 'damaged' | 'too much'> {
  const unpacking = new DecompressionStream('gzip');
  const writer = unpacking.writable.getWriter();
  const written = writer.write(new Uint8Array(bytes)).then(
    () => writer.close(),
    () => undefined,
  );
  void written.catch(() => undefined);
  const reader = unpacking.readable.getReader();
  const parts: Uint8Array[] = [];
  let length = 0;
  try {
    for (;;) {
      const { done, value } = (await reader.read()) as { done: boolean; value?: Uint8Array };
      if (done) break;
      if (!value) continue;
      length += value.length;
      if (length > most) {
        await reader.cancel();
        return 'too much';
      }
      parts.push(value);
    }
  } catch {
    return 'damaged';
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
