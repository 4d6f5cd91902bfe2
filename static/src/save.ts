// Handing a file over: to the phone's own sharing where it takes files, else
// as a download.

/** handOver gives the rider a file. It resolves when it is given, or when the rider changed their mind. */
export async function handOver(content: Blob, name: string): Promise<void> {
  const file = new File([content], name, { type: content.type });
  if (navigator.canShare?.({ files: [file] })) {
    try {
      return await navigator.share({ files: [file], title: name });
    } catch (err) {
      if (err instanceof DOMException && err.name === "AbortError") return;
    }
  }
  const url = URL.createObjectURL(content);
  const a = document.createElement("a");
  a.href = url;
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
