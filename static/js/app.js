// @ts-check
// The one module that every page loads. Each behavior has a module of its own.
import './morph-fields.js';
import './edits.js';
import './grid.js';
import './keys.js';
import './messages.js';
import './locate.js';
