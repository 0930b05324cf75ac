"use strict";
// The entrance of a site of plain files, and the page for what is missing there:
// ids that are typed or written another way lead to their page.
(function () {
  var root = new URL("..", document.currentScript.src), key = "language", last = null;
  try { last = localStorage.getItem(key); } catch (e) { /* not allowed: then none was kept */ }
  // The same characters for each other as on the server: O for 0, I and L for 1.
  function fold(text) {
    var id = text.toUpperCase().replace(/[\s-]/g, "").replace(/O/g, "0").replace(/[IL]/g, "1");
    return /^[0-9A-HJKMNP-TV-Z]{6}$/.test(id) ? id : "";
  }
  function place(id) { return new URL(id + "/", root).href; }
  if (document.querySelector("[data-missing]")) {
    var first = "";
    try { first = decodeURIComponent(location.pathname.slice(root.pathname.length).split("/")[0]); } catch (e) { /* no id */ }
    var id = fold(first);
    if (id && id !== first) { location.replace(place(id)); return; }
  }
  var parts = Array.prototype.slice.call(document.querySelectorAll("[data-part]"));
  var tags = parts.map(function (el) { return el.dataset.part; });
  var wants = (navigator.languages || [navigator.language || ""]).map(function (t) { return t.toLowerCase().split("-")[0]; });
  var show = [last].concat(wants).filter(function (t) { return tags.indexOf(t) >= 0; })[0] || tags[0];
  parts.forEach(function (el) {
    el.hidden = el.dataset.part !== show;
    var form = el.querySelector("form");
    form.hidden = false;
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      var asked = fold(form.elements.id.value);
      if (asked) location.assign(place(asked)); else form.elements.id.focus();
    });
  });
  document.documentElement.lang = show;
})();
