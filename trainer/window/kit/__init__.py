"""A small kit of retained widgets: one focus manager, one style table, one layout pass, one tree for tests.

    style  glyphs  pen      what things look like, text runs, drawing
    widget  boxes           what a widget is; columns, rows, flows, panels
    label  button  choice  entry  slider  tabs  scroll  table  canvas      the widgets
    dialog  root            layers, focus, events, toasts, tooltips

Every widget knows its role, label, value and whether it is enabled; `Root.tree()` dumps them.
"""
