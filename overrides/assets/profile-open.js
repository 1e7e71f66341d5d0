// An existing profile into the form: its text to what the form holds, and what it cannot hold, told
// before anything is replaced. The form's schema says at x-as how each value is read.
window.sondebookOpen = (function () {
  "use strict";
  var LARGEST_LETTERS = 256 * 1024;
  var MODELINE = /^# yaml-language-server: \$schema=[\x21-\x7e]+$/;
  var FILE_NAME = /^[a-z0-9]+(-[a-z0-9]+)*\.ya?ml$/;
  var SHARES = /alias|anchor|tag/;

  function has(object, key) { return Object.prototype.hasOwnProperty.call(object, key); }
  function isMapping(value) { return typeof value === "object" && value !== null && !Array.isArray(value); }

  // ---- the text

  // { fault, line } where it cannot be opened, else { value, comments, left, modeline }
  function read(text, schema, format) {
    if (text.length > LARGEST_LETTERS) { return { fault: "large" }; }
    text = text.replace(/^\ufeff/, "").replace(/\r\n?/g, "\n");
    var events, data;
    try {
      events = window.jsyaml.parseEvents(text, {});
      var shared = sharing(events);
      if (shared >= 0) { return { fault: "shared", line: lineOf(text, shared) }; }
      data = window.jsyaml.load(text, { schema: window.jsyaml.FAILSAFE_SCHEMA });
    } catch (error) {
      return faultOf(error, text);
    }
    if (!isMapping(data) || !has(data, "format")) { return { fault: "noProfile" }; }
    if (data.format !== String(format)) { return { fault: "format", format: String(data.format) }; }
    var left = [];
    var value = held(schema, data, "", left);
    return {
      value: value, left: left, comments: comments(text, events),
      modeline: MODELINE.test(text.split("\n", 1)[0]) ? text.split("\n", 1)[0] : ""
    };
  }

  function faultOf(error, text) {
    var reason = String(error && error.reason);
    if (!error || error.name !== "YAMLException") { return { fault: "unread", line: 1 }; }
    if (/^expected a single document/.test(reason)) { return { fault: "several" }; }
    if (/^expected a document/.test(reason)) { return { fault: "noProfile" }; }
    var lines = text.replace(/\n+$/, "").split("\n").length;
    var line = Math.min(lines, (error.mark ? error.mark.line : 0) + 1);
    if (SHARES.test(reason)) { return { fault: "shared", line: line }; }
    if (/^tab characters/.test(reason)) { return { fault: "tab", line: line }; }
    if (/^duplicated mapping key/.test(reason)) { return { fault: "twice", line: line }; }
    if (/indentation/.test(reason)) { return { fault: "indented", line: line }; }
    if (/^unexpected end|^missed comma/.test(reason)) { return { fault: "notClosed", line: line }; }
    return { fault: "unread", line: line };
  }

  // Where an anchor, an alias or a tag stands, which a profile may not have; below 0 where none does
  function sharing(events) {
    for (var at = 0; at < events.length; at += 1) {
      var event = events[at];
      if (event.type === window.jsyaml.EVENT_ALIAS) { return Math.max(0, event.anchorStart); }
      if (event.anchorStart >= 0) { return event.anchorStart; }
      if (event.tagStart >= 0) { return event.tagStart; }
    }
    return -1;
  }

  function lineOf(text, place) { return text.slice(0, place).split("\n").length; }

  // The numbers of the lines with a comment, but for the one that leads editors to the schema
  function comments(text, events) {
    var letters = text.split("");
    events.forEach(function (event) {
      if (event.type !== window.jsyaml.EVENT_SCALAR) { return; }
      for (var at = event.valueStart; at < event.valueEnd; at += 1) {
        if (letters[at] !== "\n") { letters[at] = "x"; }
      }
    });
    var found = [];
    letters.join("").split("\n").forEach(function (line, at) {
      var isModeline = at === 0 && MODELINE.test(text.split("\n", 1)[0]);
      if (/(^|\s)#/.test(line) && !isModeline) { found.push(at + 1); }
    });
    return found;
  }

  // ---- its values

  // A value as the form holds it; ways to what it cannot hold are told to `left`
  function held(schema, data, way, left) {
    var as = schema["x-as"];
    if (as === "map" || as === "values") { return items(schema, data, way, left); }
    if (as === "numbers" || as === "names" || as === "pair") { return joined(data, way, left); }
    if (as === "stated" && typeof data === "string") { return { value: data }; }
    if (schema.type === "object") { return group(schema, data, way, left); }
    if (schema.type === "array") {
      if (!Array.isArray(data)) { return lost(way, left); }
      return data.map(function (each, at) { return held(schema.items, each, way + "." + (at + 1), left); })
        .filter(function (each) { return each !== undefined; });
    }
    if (typeof data !== "string") { return lost(way, left); }
    return schema.enum && schema.enum.indexOf(data) < 0 ? lost(way, left) : data;
  }

  function lost(way, left) {
    left.push(way);
    return undefined;
  }

  function group(schema, data, way, left) {
    if (!isMapping(data)) { return data === "" ? {} : lost(way, left); }
    var found = {};
    Object.keys(data).forEach(function (key) {
      if (way === "" && key === "format") { return; }
      var at = way === "" ? key : way + "." + key;
      if (key === "_name" || !has(schema.properties, key)) { left.push(at); return; }
      var value = held(schema.properties[key], data[key], at, left);
      if (value !== undefined) { found[key] = value; }
    });
    return found;
  }

  // A mapping as a list of items, each with its name
  function items(schema, data, way, left) {
    if (!isMapping(data)) { return lost(way, left); }
    return Object.keys(data).map(function (name) {
      var at = way + "." + name;
      var inner = schema["x-as"] === "values"
        ? { value: held(schema.items.properties.value, data[name], at, left) }
        : held(schema.items, data[name], at, left);
      return Object.assign({ _name: name }, inner);
    });
  }

  function joined(data, way, left) {
    var isPlain = Array.isArray(data) && data.every(function (each) {
      return typeof each === "string" && each.indexOf(",") < 0;
    });
    return isPlain ? data.join(", ") : lost(way, left);
  }

  // ---- the file

  // Calls back with { name, text }, or with { fault }
  function fileText(file, done) {
    if (file.size > LARGEST_LETTERS) { done({ fault: "large" }); return; }
    var reader = new FileReader();
    reader.onerror = function () { done({ fault: "noFile" }); };
    reader.onload = function () {
      var text;
      try { text = new TextDecoder("utf-8", { fatal: true }).decode(reader.result); } catch (error) {
        done({ fault: "noText" });
        return;
      }
      done({ name: FILE_NAME.test(file.name) ? file.name.replace(/\.yaml$/, ".yml") : "", text: text });
    };
    reader.readAsArrayBuffer(file);
  }

  return { fileText: fileText, read: read };
})();
