"use strict";
// The adds of a float in their short form: values, and lines that name them by
// their place, with the shot as it is. Written out they are lines of seven fields.
(function () {
  var short = window.floatAdds;
  if (!short) return;
  var values = short[0].split("|");
  window.floatAdds = short[1].split("\n").map(function (line) {
    return line.split("|").map(function (field, i) { return i === 3 ? field : values[parseInt(field, 36)]; }).join("|");
  }).join("\n");
})();
