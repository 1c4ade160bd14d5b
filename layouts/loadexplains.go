package layouts
