// The page that builds a profile: the form, its draft on this device, the sketch, the text. The form
// itself is made by a library from the schema in profile-form-data.js.
(function () {
  "use strict";
  var given = window.sondebookForm;
  var page = document.getElementById("profile-form");
  var KEY = "sondebook-profile-draft";
  // The name and first line of the file that was opened, so that it stays the same file
  var OPENED_KEY = "sondebook-profile-opened";
  var Jedison = window.Jedison;
  var say = given.say;

  function byId(id) { return document.getElementById(id); }
  function copied(value) { return JSON.parse(JSON.stringify(value)); }
  function filled(sentence, gaps) {
    return sentence.replace(/\{(\w+)\}/g, function (gap, name) { return gaps[name]; });
  }

  // What the library says of a group because of its parts; each part tells it better
  var OF_PARTS = ["properties", "items", "required", "uniqueItems"];

  // ---- the library's parts, as this site writes forms

  class Theme extends Jedison.Theme {
    // A caption of text alone: buttons in it would be read as part of the group's name
    getLegend(config) {
      var parts = {};
      ["left", "right", "legendText", "infoContainer"].forEach(function (name) {
        parts[name] = document.createElement("span");
      });
      parts.legend = document.createElement("legend");
      parts.legendText.textContent = config.content;
      parts.left.appendChild(parts.legendText);
      parts.legend.appendChild(parts.left);
      return parts;
    }

    getRadioLegend(config) {
      var parts = this.getLegend(config);
      parts.icon = document.createElement("span");
      return parts;
    }

    // What may be added comes last, open below its button instead of in a dialog over the page
    getObjectControl(config) {
      var control = super.getObjectControl(config);
      control.messages.before(control.description);
      control.body.append(control.actions, control.propertiesContainer);
      control.quickAddPropertyContainer.remove();
      return control;
    }

    getPropertiesSlot(config) {
      var slot = document.createElement("div");
      slot.id = config.id;
      slot.className = "may-add";
      slot.hidden = true;
      Object.defineProperty(slot, "open", { get: function () { return !slot.hidden; } });
      slot.close = function () { slot.hidden = true; };
      slot.showModal = function () { slot.hidden = false; };
      slot.focus = function () {};
      return slot;
    }

    getPropertiesToggle(config) {
      var toggle = super.getPropertiesToggle(config);
      toggle.setAttribute("aria-controls", config.propertiesContainer.id);
      toggle.setAttribute("aria-expanded", "false");
      toggle.addEventListener("click", function () {
        toggle.setAttribute("aria-expanded", String(config.propertiesContainer.open));
      });
      return toggle;
    }

    getDescription(config) {
      var told = document.createElement("small");
      told.className = "hint";
      if (config && config.id) { told.id = config.id; }
      told.textContent = config && config.content || "";
      return told;
    }

    visuallyHidden(element) { element.classList.add("unseen"); }
    getErrorFeedback(config) { return this.fault(config.message); }
    getAlert(config) { return this.fault(config.message); }
    fault(message) {
      var told = document.createElement("span");
      told.className = "fault";
      told.textContent = message;
      return told;
    }
  }

  // The library puts every field into the page anew after each change, which takes the focus and
  // the click that comes with it. These leave fields where they are as long as they are the same.
  function areShown(slot, children) {
    return slot.children.length === children.length && children.every(function (child, at) {
      return slot.children[at].contains(child.ui.control.container);
    });
  }

  class Group extends Jedison.EditorObject {
    refreshEditors() {
      var active = this.instance.children.filter(function (child) { return child.isActive; });
      if (!areShown(this.control.childrenSlot, active)) { super.refreshEditors(); }
    }
    refreshPropertiesSlot() {
      // Its boxes are made anew too, so the one that was just ticked gets its focus back
      var focused = document.activeElement && document.activeElement.id;
      super.refreshPropertiesSlot();
      var again = focused && byId(focused);
      if (again && this.control.propertiesActivators.contains(again)) { again.focus(); }
    }
    refreshLegendWarning() {}
  }

  class Several extends Jedison.EditorArray {
    static resolves(schema) { return schema.type === "array" && !schema.uniqueItems; }
    refreshUI() {
      if (!areShown(this.control.childrenSlot, this.instance.children)) { super.refreshUI(); }
    }
    refreshLegendWarning() {}
  }

  // ---- the draft on this device

  function kept(key) {
    try { return JSON.parse(localStorage.getItem(key)); } catch (error) { return null; }
  }
  function keep(key, value) {
    try { localStorage.setItem(key, JSON.stringify(value)); } catch (error) { byId("kept-not").hidden = false; }
  }

  function made(value) {
    byId("fields").replaceChildren();
    var form = new Jedison.Create({
      container: byId("fields"), theme: new Theme(), schema: copied(given.schema), data: value,
      customEditors: [Several, Group],
      enablePropertiesToggle: true, deactivateNonRequired: true, enforceMinItems: false,
      arrayAdd: false, arrayFooterAdd: true, arrayFooterButtonsPosition: "left", arrayMove: false,
      arrayDeleteConfirm: false, muteValidationMessages: OF_PARTS, useConstraintAttributes: false, purifyData: false, purifyHtml: false,
      translations: { en: say.library },
      constraints: window.sondebookJudge.constraints(function () { return held; }, function (path) {
        var group = form && form.getInstance(path.slice(0, path.lastIndexOf("/")));
        return group ? group.getValue() : {};
      })
    });
    form.refreshFocus = function () {};
    form.hiddenInput.remove();
    form.on("change", refresh);
    form.on("item-add", function (initiator, instance) {
      if (initiator !== "user") { return; }
      var first = instance.ui.control.container.querySelector("input, select");
      if (first) { first.focus(); }
    });
    return form;
  }

  // ---- what follows from the form

  function read() {
    return window.sondebookProfile.profile(given.schema, form.getValue(), given.format);
  }

  function refresh() {
    held = form.getValue();
    keep(KEY, held);
    offerNames();
    judgeAgain();
    var now = read();
    var name = opened.name || window.sondebookProfile.fileName(now.data);
    byId("text").value = window.sondebookProfile.yaml(now.data, opened.modeline || given.modeline);
    byId("file-name").textContent = name;
    var target = proposal();
    byId("propose").hidden = !target;
    if (target) { byId("propose").href = target.href; }
    sketch(now.data);
    byId("said").textContent = "";
    byId("faults").hidden = true;
  }

  // The names that may be referred to, as fields offer them
  function offerNames() {
    byId("names").replaceChildren.apply(byId("names"), ["connectors", "fuses", "sources"].map(function (key) {
      var list = document.createElement("datalist");
      list.id = "names-" + key;
      window.sondebookJudge.names(held, key).forEach(function (name) { list.append(new Option(name)); });
      return list;
    }));
  }

  // A fault that another field has mended since is not told any longer
  function judgeAgain() {
    form.instances.forEach(function (instance) {
      var schema = instance.schema, ui = instance.ui;
      if ((schema["x-of"] || schema["x-judged"]) && ui.showingValidationErrors) {
        ui.showValidationErrors(instance.getErrors());
      }
    });
  }

  function sketch(data) {
    var told = window.sondebookSketch.told(data);
    var place = byId("sketch"), faults = byId("sketch-faults");
    place.replaceChildren();
    faults.replaceChildren();
    byId("seen-from").hidden = !told;
    byId("sketch-waits").hidden = !!told;
    if (!told) { return; }
    var standpoint = chosen(told.engine.bay);
    var drawn = window.sondebookSketch.draw(told, standpoint, say.sketch);
    if (drawn.svg) { place.append(drawn.svg); }
    (drawn.faults || []).forEach(function (sentence) {
      var item = document.createElement("li");
      item.textContent = sentence;
      faults.append(item);
    });
  }

  // The standpoints of this bay as buttons; the one chosen stays
  function chosen(bay) {
    var there = window.sondebookLayout.standpoints(bay);
    var select = byId("standpoint");
    var before = select.value;
    if (select.dataset.bay !== bay) {
      select.dataset.bay = bay;
      select.replaceChildren.apply(select, there.map(function (each) {
        return new Option(say.sketch.from[each], each);
      }));
      if (there.indexOf(before) >= 0) { select.value = before; }
    }
    return select.value;
  }

  // Every fault with a link to its field; true where there is none
  function isWhole() {
    form.showValidationErrors();
    var list = byId("fault-list");
    list.replaceChildren();
    form.getErrors().forEach(function (error) {
      var instance = form.getInstance(error.path);
      if (!instance || OF_PARTS.indexOf(error.constraint) >= 0 || !isReached(instance)) { return; }
      var input = instance.ui.control.input;
      error.messages.forEach(function (message) {
        addFault(list, whereOf(instance) + ": " + message, input && input.id);
      });
    });
    read().doubles.forEach(function (name) { addFault(list, filled(say.twice, { name: name })); });
    var told = window.sondebookSketch.told(read().data);
    if (told) { window.sondebookLayout.faults(told.engine, told.banks).forEach(function (sentence) { addFault(list, sentence); }); }
    byId("faults").hidden = !list.children.length;
    if (list.children.length) { byId("faults").focus(); }
    return !list.children.length;
  }

  function isReached(instance) {
    return byId("fields").contains(instance.ui.control.container);
  }

  function whereOf(instance) {
    var names = [];
    for (var each = instance; each && each.parent; each = each.parent) { names.unshift(each.ui.getTitle()); }
    return names.join(", ");
  }

  function addFault(list, sentence, id) {
    var item = document.createElement("li");
    if (id) {
      var link = document.createElement("a");
      link.href = "#" + id;
      link.textContent = sentence;
      link.addEventListener("click", function (event) { event.preventDefault(); byId(id).focus(); });
      item.append(link);
    } else { item.textContent = sentence; }
    list.append(item);
  }

  // ---- out of the page

  function copyText(done) {
    var text = byId("text");
    function byHand() {
      text.focus();
      text.select();
      var isCopied = false;
      try { isCopied = document.execCommand("copy"); } catch (error) { isCopied = false; }
      byId("said").textContent = isCopied ? done : say.byHand;
    }
    if (!navigator.clipboard || !window.isSecureContext) { byHand(); return; }
    navigator.clipboard.writeText(text.value).then(function () {
      byId("said").textContent = done;
    }, byHand);
  }

  function download() {
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([byId("text").value], { type: "text/yaml" }));
    link.download = byId("file-name").textContent;
    link.click();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
    byId("said").textContent = filled(say.saved, { name: link.download });
  }

  // Where the file is proposed: a new one with its text, one that is there already in its place
  function proposal() {
    if (opened.name && given.edit) {
      return { href: given.edit + encodeURIComponent(opened.name), isThere: true };
    }
    if (!given.propose) { return null; }
    return window.sondebookProfile.proposal(given.propose, byId("file-name").textContent, byId("text").value);
  }

  function proposing(event) {
    if (!isWhole()) { event.preventDefault(); return; }
    var target = proposal();
    if (target.isThere) { copyText(say.pasteOver); } else if (!target.holdsText) { copyText(say.paste); }
  }

  // ---- into the page

  function isUntouched() {
    return JSON.stringify(read().data) === JSON.stringify(
      window.sondebookProfile.profile(given.schema, given.start, given.format).data
    );
  }

  function opening(name, text) {
    var found = window.sondebookOpen.read(text, given.schema, given.format);
    byId("open-asks").hidden = true;
    if (found.fault) { refused(found); return; }
    var losses = byId("open-losses");
    losses.replaceChildren();
    if (found.comments.length) {
      addFault(losses, filled(say.open.comments, { lines: found.comments.join(", ") }));
    }
    if (found.left.length) { addFault(losses, filled(say.open.left, { keys: found.left.join(", ") })); }
    if (!isUntouched()) { addFault(losses, say.open.replaced); }
    function go() { open({ name: name, modeline: found.modeline }, found.value); }
    if (!losses.children.length) { go(); return; }
    byId("open-said").textContent = "";
    byId("open-go").onclick = go;
    byId("open-asks").hidden = false;
    byId("open-asks").focus();
  }

  function refused(found) {
    byId("open-said").textContent = filled(say.open[found.fault], {
      line: found.line, format: found.format, own: given.format
    });
  }

  function open(file, value) {
    opened = file;
    keep(OPENED_KEY, opened);
    byId("open-asks").hidden = true;
    byId("open").open = false;
    byId("open-file").value = "";
    byId("open-text").value = "";
    restart(value);
    byId("open-said").textContent = file.name ? filled(say.open.done, { name: file.name }) : say.open.doneUnnamed;
  }

  function restart(value) {
    form.destroy();
    form = made(value);
    refresh();
    var first = byId("fields").querySelector("input");
    if (first) { first.focus(); }
  }

  function startAgain() {
    if (!window.confirm(say.again)) { return; }
    opened = {};
    keep(OPENED_KEY, opened);
    byId("open-said").textContent = "";
    restart(copied(given.start));
  }

  var opened = kept(OPENED_KEY) || {};
  // The form's value as of its last change
  var held = {};
  var form = made(kept(KEY) || copied(given.start));
  byId("copy").addEventListener("click", function () { if (isWhole()) { copyText(say.copied); } });
  byId("download").addEventListener("click", function () { if (isWhole()) { download(); } });
  byId("again").addEventListener("click", startAgain);
  byId("standpoint").addEventListener("change", function () { sketch(read().data); });
  byId("propose").addEventListener("click", proposing);
  byId("open-pasted").addEventListener("click", function () { opening("", byId("open-text").value); });
  byId("open-leave").addEventListener("click", function () {
    byId("open-asks").hidden = true;
    byId("open-file").value = "";
    byId("open-file").focus();
  });
  byId("open-file").addEventListener("change", function () {
    var file = byId("open-file").files[0];
    if (!file) { return; }
    window.sondebookOpen.fileText(file, function (told) {
      if (told.fault) { refused(told); } else { opening(told.name, told.text); }
    });
  });
  page.hidden = false;
  refresh();
})();
