// Typing down the board: Enter goes to the next float, and stores behind the last.
"use strict";
for (const form of document.querySelectorAll("form.down")) {
  const fields = [...form.querySelectorAll("tbody input")];
  if (fields.length) fields[0].focus();
  form.addEventListener("keydown", (e) => {
    const i = fields.indexOf(e.target);
    if (e.key !== "Enter" || i < 0 || i === fields.length - 1) return;
    e.preventDefault();
    fields[i + 1].focus();
    fields[i + 1].select();
  });
}
