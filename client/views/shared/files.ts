/** Hands a text or a file to the browser as a file to be saved. */
export function saveFile(name: string, type: string, content: string | Blob): void {
  const address = URL.createObjectURL(new Blob([content], { type }));
  saveAddress(address, name);
  // The browser has begun to read it by the next turn of the event loop; a minute is ample.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** Has the browser save what is at an address of this server, under the name the server gives it or this one. */
export function saveAddress(address: string, name = ''): void {
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
}
