// What of CodeMirror the page uses; build_editor.sh makes one module of it.
export { EditorState, StateField, StateEffect, RangeSetBuilder } from "@codemirror/state";
export { EditorView, Decoration, WidgetType, keymap, highlightActiveLine } from "@codemirror/view";
export { defaultKeymap, history, historyKeymap, undo, redo, undoDepth, redoDepth } from "@codemirror/commands";
