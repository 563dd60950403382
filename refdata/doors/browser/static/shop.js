// Small helps only: every page works without this file.
(function () {
    "use strict";
    var box = document.getElementById("say"), kept = "asked-here", most = 8;

    function read() {
        try { return JSON.parse(localStorage.getItem(kept)) || []; } catch (problem) { return []; }
    }

    // "/" goes to the box, unless something is being written
    document.addEventListener("keydown", function (event) {
        var writing = /^(INPUT|TEXTAREA|SELECT)$/.test(document.activeElement.tagName);
        if (event.key === "/" && !writing && !event.ctrlKey && !event.metaKey && !event.altKey) {
            event.preventDefault();
            box.focus();
            box.select();
        }
    });

    // a form that is sent leaves out what was left empty, so that its address stays short
    document.addEventListener("submit", function (event) {
        Array.prototype.forEach.call(event.target.elements, function (field) {
            if (field.name && !field.value) { field.disabled = true; }
        });
    });
    window.addEventListener("pageshow", function () {
        Array.prototype.forEach.call(document.querySelectorAll("[name]:disabled"), function (field) {
            field.disabled = false;
        });
    });

    // what was asked and answered on this device, on the home page
    if (document.body.classList.contains("said") && box.value && !document.querySelector(".message-error")) {
        var asked = [box.value].concat(read().filter(function (one) { return one !== box.value; }));
        try { localStorage.setItem(kept, JSON.stringify(asked.slice(0, most))); } catch (problem) { /* private window */ }
    }
    var recent = document.getElementById("recent"), known = read();
    if (recent && known.length) {
        known.forEach(function (one) {
            var link = document.createElement("a"), item = document.createElement("li");
            link.href = "/-/refdata?say=" + encodeURIComponent(one);
            link.textContent = one;
            item.appendChild(link);
            recent.querySelector("ul").appendChild(item);
        });
        recent.hidden = false;
    }
}());
