// A photograph is made small enough to be sent and sent at once.
"use strict";
const widest = 2000; // pixels: a code over a tenth of it is still 4 pixels to a square
for (const input of document.querySelectorAll("input[name=photo]")) {
  input.addEventListener("change", async () => {
    const file = input.files[0];
    if (!file) return;
    try {
      const picture = await createImageBitmap(file);
      const k = Math.min(1, widest / Math.max(picture.width, picture.height));
      if (k < 1) {
        const canvas = document.createElement("canvas");
        canvas.width = Math.round(picture.width * k);
        canvas.height = Math.round(picture.height * k);
        canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
        const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.9));
        const files = new DataTransfer();
        files.items.add(new File([blob], "photo.jpg", { type: "image/jpeg" }));
        input.files = files.files;
      }
    } catch { /* it is sent as it is, and what reads it says what is wrong */ }
    input.form.requestSubmit();
  });
}
