"""What a job hands to other programs and to other people's pens: bill, orders, calendar, figures."""
