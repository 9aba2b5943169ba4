// Floor: a Node that does nothing.
export {};
