// Tells a browser that is too old for the program so, before anything fails. It speaks the JavaScript of old browsers, which may
// not be able to read the other scripts.

(function () {
  // A module of one function with what the program is made of: references, bulk memory, conversions that do not trap, sign
  // extension. As text: (module (memory 1) (func (param externref) (result i32) (memory.copy (i32.const 0) (i32.const 0)
  // (i32.const 0)) (i32.extend8_s (i32.trunc_sat_f64_s (f64.const 0)))))
  var sample = [0, 97, 115, 109, 1, 0, 0, 0, 1, 6, 1, 96, 1, 111, 1, 127, 3, 2, 1, 0, 5, 3, 1, 0, 1, 10, 26, 1, 24, 0, 65, 0, 65, 0, 65, 0, 252, 10, 0, 0, 68, 0, 0, 0, 0, 0, 0, 0, 0, 252, 2, 192, 11];
  try {
    if (WebAssembly.validate(new Uint8Array(sample))) return;
  } catch (none) {
    // No WebAssembly at all.
  }
  window.tooOld = 'This browser is too old for the program. It takes Chrome 96, Firefox 79 or Safari 15.1 (iOS 15.1), or newer.';
  document.addEventListener('DOMContentLoaded', function () {
    // The last resort says it where it can be read: then this is gone, or goes.
    var first = document.getElementById('first');
    if (!first) return;
    var said = document.createElement('p');
    said.className = 'notice alert';
    said.appendChild(document.createTextNode(window.tooOld));
    first.appendChild(said);
  });
}());
