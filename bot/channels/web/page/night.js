// Night and day: runs before the first line is painted, so that there is no white flash at three in the morning.
"use strict";
(() => {
  const DAY_FROM = 7, DAY_UNTIL = 19;  // the hours in which the page may be light
  const light = matchMedia("(prefers-color-scheme: light)");
  function lightOrDark() {
    const hour = new Date().getHours();
    const day = hour >= DAY_FROM && hour < DAY_UNTIL;
    document.documentElement.classList.toggle("day", day);
    for (const source of document.querySelectorAll("picture source")) source.media = day ? light.media : "not all";
    document.querySelector('meta[name="theme-color"]').content = day && light.matches ? "#faf6ec" : "#12100c";
  }
  lightOrDark();
  setInterval(lightOrDark, 60000);
  light.addEventListener("change", lightOrDark);
})();
