// A phone's picture is larger than what is kept: made smaller here before it is sent.
// Without this script it is sent as it is, and refused where it is too large.

const LONGEST = 1600; // pixels
const QUALITY = 0.82;

async function smaller(file) {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => { canvas.toBlob(resolve, "image/jpeg", QUALITY); });
}

const field = document.getElementById("picture");
field?.addEventListener("change", async () => {
  const [file] = field.files;
  if (!file) return;
  try {
    const blob = await smaller(file);
    if (!blob || blob.size >= file.size) return;
    const chosen = new DataTransfer();
    chosen.items.add(new File([blob], "picture.jpg", { type: "image/jpeg" }));
    field.files = chosen.files;
    field.dataset.smaller = `${file.size} to ${blob.size} bytes`;
  } catch {
    // no picture that this browser can read: the kitchen says so
  }
});
