"""From needs to what is bought: materials, suppliers, price book, orders."""
