// Files out and in, and the browser's promise to keep the storage.

const mostFileBytes = 256 * 1024 * 1024;  // as on the command line (native-shell/whole_files.h)
const forgetMs = 60000;  // a download reads its bytes well before that
const buzzMs = 200, beepHz = 880, beepSeconds = 0.25;

const persisted = { granted: 1, refused: 2, aWeek: 3 };  // slipway_persisted of entry_points.cpp

// WebKit clears what a page has written after seven days of use without a visit, unless the page is on the home screen.
function clearsAfterAWeek() {
  const webKit = 'GestureEvent' in window;
  return webKit && !navigator.standalone && !matchMedia('(display-mode: standalone)').matches;
}

async function yes(what) {
  try {
    return await navigator.storage[what]() ? persisted.granted : persisted.refused;
  } catch {
    return persisted.refused;  // no such promise in this browser
  }
}

export class Outside {
  constructor(picker, tell) {
    this.picker = picker;
    this.tell = tell;
    picker.addEventListener('change', () => {
      this.takeIn(picker.files);
      picker.value = '';  // the same file may be chosen again
    });
    document.addEventListener('visibilitychange', () => { if (!document.hidden && this.awake) this.stayAwake(true); });
    addEventListener('dragover', (event) => event.preventDefault());
    addEventListener('drop', (event) => {
      event.preventDefault();
      this.takeIn(event.dataTransfer.files);
    });
  }

  // One after another, in the order in which they were chosen.
  async takeIn(files) {
    for (const file of [...files]) {
      let bytes = null;
      try {
        if (file.size <= mostFileBytes) bytes = await file.arrayBuffer();
      } catch {
        // a folder, a file that is not on this device or was changed meanwhile: the others are taken in all the same
      }
      if (bytes) this.tell({ kind: 'file', name: file.name, bytes }, [bytes]);
      else this.tell({ kind: 'not read', name: file.name, isLarge: file.size > mostFileBytes });
    }
  }

  askForFile() {
    this.picker.click();
  }

  // A hand-held device shares; elsewhere, or where the share sheet refuses, it is a download.
  async handOver(name, bytes) {
    const type = name.endsWith('.txt') ? 'text/plain' : 'application/octet-stream';
    const file = new File([bytes], name, { type });
    const handheld = matchMedia('(pointer: coarse)').matches;
    if (handheld && navigator.canShare && navigator.canShare({ files: [file] })) {
      try {
        await navigator.share({ files: [file] });
        return;
      } catch (error) {
        if (error.name === 'AbortError') {  // the person closed the sheet
          this.tell({ kind: 'not out' });
          return;
        }
      }
    }
    this.download(file);
  }

  download(file) {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(file);
    link.download = file.name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), forgetMs);
  }

  // Both need a hand on the page before: without one the browser refuses, and says so where a person might look.
  signal(beep, buzz) {
    if (navigator.userActivation && !navigator.userActivation.hasBeenActive) return;
    if (buzz && navigator.vibrate) navigator.vibrate(buzzMs);
    if (beep && window.AudioContext) this.beep();
  }

  beep() {
    this.sound = this.sound || new AudioContext();
    const tone = this.sound.createOscillator();
    const loudness = this.sound.createGain();
    tone.frequency.value = beepHz;
    loudness.gain.value = 0.2;
    tone.connect(loudness).connect(this.sound.destination);
    tone.start();
    tone.stop(this.sound.currentTime + beepSeconds);
  }

  // The browser lets the screen go dark whenever the page is hidden; shown again, it is asked again. One lock, however
  // often it is asked for meanwhile: a second one would be held for ever.
  async stayAwake(wanted) {
    this.awake = wanted;
    if (!navigator.wakeLock || this.asking) return;
    if (wanted && !this.lock && !document.hidden) await this.askForLock();
    if (this.awake || !this.lock) return;
    const { lock } = this;
    this.lock = null;
    await lock.release();
  }

  async askForLock() {
    this.asking = true;
    try {
      const lock = await navigator.wakeLock.request('screen');
      lock.addEventListener('release', () => { if (this.lock === lock) this.lock = null; });
      this.lock = lock;
    } catch {
      this.lock = null;  // a low battery, or a browser that does not want to: the screen goes dark as ever
    }
    this.asking = false;
  }

  async askToPersist() {
    const answer = await yes('persist');  // spares it when room runs short, also where a week ends it all the same
    this.tell({ kind: 'persisted', answer: clearsAfterAWeek() ? persisted.aWeek : answer });
  }

  // What was granted on an earlier visit, and what this browser does of itself; nothing is asked of the person.
  async tellPersisted() {
    if (clearsAfterAWeek()) this.tell({ kind: 'persisted', answer: persisted.aWeek });
    else if (await yes('persisted') === persisted.granted) this.tell({ kind: 'persisted', answer: persisted.granted });
  }
}
