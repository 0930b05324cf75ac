"use strict";
// The choice on a page that is a plain file: the page holds every answer, this
// shows the one asked for and keeps the choice on this phone.
(function () {
  var form = document.getElementById("choose");
  var adds = form && (form.dataset.adds || window.floatAdds);
  if (!adds) return;
  var kept = "choice", rows = {};
  adds.split("\n").forEach(function (line) {
    var c = line.split("|");
    if (c.length === 7) rows[c.slice(0, 3).join("|")] = c;
  });
  var first = key();
  function key() {
    var water = form.querySelector("input[name=water]:checked");
    return [form.elements.set.value, form.elements.metal.value, water ? water.value : "fresh"].join("|");
  }
  function put(id, text) {
    var el = document.getElementById(id);
    if (el) { el.textContent = text; el.hidden = text === ""; }
  }
  function show() {
    // "as the set" names the metal of the set that is chosen
    var set = form.elements.set.selectedOptions[0];
    if (set && set.dataset.own) form.elements.metal.options[0].textContent = set.dataset.own;
    var c = rows[key()];
    if (!c) { // the metal of the set, chosen by name
      c = rows[[form.elements.set.value, "", key().split("|")[2]].join("|")];
    }
    if (!c) return;
    put("add-shot", c[3]);
    put("add-gram", c[4]);
    put("add-tip", c[5]);
    var letters = c[6].split(" ");
    document.querySelectorAll("#add [data-note]").forEach(function (el) {
      el.hidden = letters.indexOf(el.dataset.note) < 0;
    });
    var parts = document.getElementById("parts");
    if (parts) parts.hidden = key() !== first;
  }
  function keep() {
    try { localStorage.setItem(kept, key()); } catch (e) { /* not allowed: then it is not kept */ }
  }
  try {
    var last = (localStorage.getItem(kept) || "").split("|");
    if (last.length === 3) {
      var radio = form.querySelector('input[name=water][value="' + (last[2] === "sea" ? "sea" : "fresh") + '"]');
      ["set", "metal"].forEach(function (name, i) {
        var options = Array.prototype.map.call(form.elements[name].options, function (o) { return o.value; });
        if (options.indexOf(last[i]) >= 0) form.elements[name].value = last[i];
      });
      if (radio) radio.checked = true;
    }
  } catch (e) { /* as above */ }
  form.hidden = false;
  form.addEventListener("submit", function (event) { event.preventDefault(); show(); keep(); });
  form.addEventListener("change", function () { show(); keep(); });
  show();
})();
