// What the pages' scripts find on window.
interface Window {
  htmx: {
    trigger(target: string | Element, name: string): void;
    ajax(verb: string, path: string, options: { source: string | Element; target: string | Element; swap: string; values?: Record<string, string> }): Promise<void>;
  };
}
