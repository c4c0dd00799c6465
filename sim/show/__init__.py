"""What people read and look at: tables, figures, the report. The only place that draws."""
