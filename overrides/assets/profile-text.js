// What was filled into the form as a profile: plain data, YAML, the file's name, the address that
// proposes it. The form's schema says at x-as how each value is written; see form_schema.py.
window.sondebookProfile = (function () {
  "use strict";
  var WHOLE = /^(0|[1-9][0-9]{0,8})$/;
  var DECIMAL = /^[-+]?[0-9]{1,9}(\.[0-9]{1,9})?$/;
  var LONGEST_NAME = 80;
  // Addresses longer than this are cut by some servers (common practice, no source)
  var LONGEST_ADDRESS = 8000;

  function whole(text) { return WHOLE.test(text) ? Number(text) : text; }

  function decimal(text) { return DECIMAL.test(text) ? Number(text) : text; }

  function several(text, read) {
    return text.split(",").map(function (each) { return read(each.trim()); });
  }

  // Whole numbers with commas or blanks between, and spans such as 1-4 in full
  function numbers(text) {
    var pieces = text.trim().replace(/\s*[-–]\s*/g, "-").split(/[\s,]+/);
    return [].concat.apply([], pieces.map(function (piece) {
      var span = /^([0-9]{1,2})-([0-9]{1,2})$/.exec(piece);
      if (!span || +span[1] > +span[2]) { return [whole(piece)]; }
      return Array.from({ length: span[2] - span[1] + 1 }, function (_, at) { return +span[1] + at; });
    }));
  }

  var READ = {
    whole: whole,
    decimal: decimal,
    numbers: numbers,
    names: function (text) { return several(text, String); },
    pair: function (text) { return several(text, decimal); }
  };

  // The value of a field as it stands in a profile; undefined where nothing was filled in.
  // Names that a mapping would hold twice are told to `doubles`, because one of them would be lost.
  function written(schema, value, doubles) {
    if (value === undefined || value === null) { return undefined; }
    if (typeof value === "string") {
      var text = value.trim();
      var read = READ[schema["x-as"]];
      return text === "" ? undefined : read ? read(text) : text;
    }
    if (!Array.isArray(value)) { return group(schema, value, doubles); }
    var as = schema["x-as"];
    if (as === "map" || as === "values") { return mapping(schema, value, doubles); }
    var items = value.map(function (each) { return written(schema.items, each, doubles); })
      .filter(function (each) { return each !== undefined; });
    return items.length ? items : undefined;
  }

  function group(schema, value, doubles) {
    var found = {};
    Object.keys(schema.properties).forEach(function (key) {
      var inner = written(schema.properties[key], value[key], doubles);
      if (inner !== undefined) { found[key] = inner; }
    });
    var keys = Object.keys(found);
    // An empty group may say something: there is a heater, and nothing is specified
    if (!keys.length) { return schema.required.length ? undefined : found; }
    var isAlone = schema["x-as"] === "stated" && keys.length === 1 && keys[0] === "value";
    return isAlone ? found.value : found;
  }

  function mapping(schema, value, doubles) {
    var found = {}, order = [];
    value.forEach(function (item) {
      var name = (item._name || "").trim();
      var inner = written(schema.items, Object.assign({}, item, { _name: "" }), doubles);
      if (name === "" && inner === undefined) { return; }
      if (order.indexOf(name) >= 0) { doubles.push(name); }
      order.push(name);
      var only = schema["x-as"] === "values" ? (inner || {}).value : inner;
      // So that a name such as __proto__ is a key like any other
      Object.defineProperty(found, name, { value: only === undefined ? {} : only, enumerable: true, configurable: true, writable: true });
    });
    return order.length ? found : undefined;
  }

  // A whole form as { data, doubles }
  function profile(schema, value, format) {
    var doubles = [];
    var data = Object.assign({ format: format }, written(schema, value, doubles));
    return { data: data, doubles: doubles };
  }

  // As people write it: lists of numbers and short words in one line, numbers as keys bare
  function asWritten(documents) {
    window.jsyaml.visit(documents, function (node) {
      if (node.kind === "mapping") {
        node.items.forEach(function (item) {
          if (WHOLE.test(item.key.value)) { item.key.tag = "tag:yaml.org,2002:int"; }
        });
      }
      if (node.kind !== "sequence" || !node.items.length) { return; }
      var isShort = node.items.every(function (each) {
        return each.kind === "scalar" && /^[a-z0-9.+-]{1,20}$/.test(each.value);
      });
      if (isShort) { node.style = window.jsyaml.COLLECTION_STYLE.FLOW; }
    });
  }

  function yaml(data, modeline) {
    return modeline + "\n\n" + window.jsyaml.dump(data, {
      noRefs: true, lineWidth: -1, quoteStyle: "double", transform: asWritten
    });
  }

  // The same answer as Python's `slug_of`
  function slug(words) {
    var plain = words.join(" ").toLowerCase().replace(/\u00df/g, "ss").normalize("NFKD")
      .replace(/[^\u0000-\u007f]/g, "");
    return (plain.match(/[a-z0-9]+/g) || []).join("-").slice(0, LONGEST_NAME).replace(/-+$/, "");
  }

  function fileName(data) {
    var vehicle = data.vehicle || {}, engine = data.engine || {};
    var name = slug([vehicle.make || "", vehicle.model || "", engine.name || ""]);
    return (name || "vehicle") + ".yml";
  }

  // { href, holdsText }: where the text is too long for an address, it is to be pasted
  function proposal(template, name, text) {
    function filled(value) {
      return template.replace(/\{(filename|value)\}/g, function (gap, what) {
        return encodeURIComponent(what === "filename" ? name : value);
      });
    }
    var href = filled(text);
    var holdsText = template.indexOf("{value}") >= 0 && href.length <= LONGEST_ADDRESS;
    return { href: holdsText ? href : filled(""), holdsText: holdsText };
  }

  return { fileName: fileName, profile: profile, proposal: proposal, slug: slug, yaml: yaml };
})();
