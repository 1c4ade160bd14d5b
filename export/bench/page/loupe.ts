// The loupe: eight times the picture round a pixel, away from the finger that hides it.

const size = 168, times = 8;

export class Loupe {
  readonly canvas = document.createElement('canvas');
  constructor() {
    this.canvas.width = this.canvas.height = size;
    this.canvas.className = 'loupe';
    this.canvas.hidden = true;
    this.canvas.setAttribute('aria-hidden', 'true');
  }

  hide(): void { this.canvas.hidden = true; }

  /** Shows the picture round a pixel; `at` is the place of the pointer in the stage. */
  show(image: CanvasImageSource, pixel: [number, number], at: [number, number], stage: { width: number; height: number }, touch: boolean): void {
    const c = this.canvas.getContext('2d')!, span = size / times;
    this.canvas.hidden = false;
    c.imageSmoothingEnabled = false;
    c.fillStyle = '#888';
    c.fillRect(0, 0, size, size);
    // pixel 0 has its middle at 0
    c.drawImage(image, pixel[0] + 0.5 - span / 2, pixel[1] + 0.5 - span / 2, span, span, 0, 0, size, size);
    const m = size / 2;
    for (const [colour, width] of [['#fff', 3], ['#000', 1]] as const) {
      c.strokeStyle = colour; c.lineWidth = width;
      c.beginPath();
      c.moveTo(0, m); c.lineTo(m - 8, m); c.moveTo(m + 8, m); c.lineTo(size, m); c.moveTo(m, 0); c.lineTo(m, m - 8); c.moveTo(m, m + 8); c.lineTo(m, size);
      c.stroke();
    }
    // on touch 96 px off the finger, else in the corner away from the pointer
    let [x, y] = touch ? [at[0] - size / 2, at[1] - 96 - size] : [at[0] < stage.width / 2 ? stage.width - size - 8 : 8, at[1] < stage.height / 2 ? stage.height - size - 8 : 8];
    if (touch && y < 4) y = at[1] + 96;
    x = Math.max(4, Math.min(stage.width - size - 4, x));
    y = Math.max(4, Math.min(stage.height - size - 4, y));
    this.canvas.style.left = `${x}px`;
    this.canvas.style.top = `${y}px`;
  }
}
