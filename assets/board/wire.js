// The one socket: what is asked, what is answered, and that it is opened again when it was lost.
// @ts-check

/** @typedef {{ kind: string, [key: string]: any }} Message */

export class Wire {
  constructor() {
    /** @type {Map<string, (m: any) => void>} */
    this.on = new Map();
    /** @type {WebSocket | null} */
    this.socket = null;
    /** @type {(open: boolean) => void} */
    this.told = () => {};
    this.open();
  }

  open() {
    const address = new URL("socket", location.href);
    address.protocol = "ws:";
    const socket = new WebSocket(address);
    this.socket = socket;
    socket.onopen = () => {
      this.told(true);
      this.ask({ do: "state" });
    };
    socket.onmessage = (e) => {
      /** @type {Message} */
      const m = JSON.parse(e.data);
      this.on.get(m.kind)?.(m);
    };
    socket.onclose = () => {
      this.told(false);
      setTimeout(() => this.open(), 1000);
    };
  }

  /** @param {{ do: string, [key: string]: any }} message @returns {boolean} whether it went out */
  ask(message) {
    if (this.socket?.readyState !== WebSocket.OPEN) return false;
    this.socket.send(JSON.stringify(message));
    return true;
  }
}
