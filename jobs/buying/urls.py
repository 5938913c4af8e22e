"""Addresses of buying: what to buy, orders, deliveries, material taken out."""

from django.urls import path

from jobs.buying.views import deliveries, orders, placing, tobuy, uses

urlpatterns = [
    path("buying/", tobuy.show_to_buy, name="buying"),
    path("buying/write/", tobuy.write, name="buying-write"),
    path("buying/orders/", orders.list_orders, name="orders"),
    path("buying/orders/new/", orders.new_order, name="order-new"),
    path("buying/orders/<uuid:pk>/", orders.show_order, name="order"),
    path("buying/orders/<uuid:pk>/add/", orders.add, name="order-add"),
    path("buying/orders/<uuid:pk>/off/", orders.call_off, name="order-off"),
    path("buying/orders/<uuid:pk>/again/", orders.again, name="order-again"),
    path("buying/orders/<uuid:pk>/end/", orders.end, name="order-end"),
    path(
        "buying/orders/<uuid:pk>/line-again/", orders.put_back, name="order-line-again"
    ),
    path("buying/lines/<uuid:pk>/drop/", orders.drop, name="order-line-drop"),
    path("buying/orders/<uuid:pk>/place/", placing.place, name="order-place"),
    path("buying/orders/<uuid:pk>/preview.pdf", placing.preview, name="order-preview"),
    path("buying/orders/<uuid:pk>/order.pdf", placing.paper, name="order-pdf"),
    path("buying/orders/<uuid:pk>/send/", placing.send, name="order-send"),
    path("buying/orders/<uuid:pk>/expect/", placing.expect, name="order-expect"),
    path("buying/mail/<uuid:pk>/again/", placing.resend, name="order-mail-again"),
    path(
        "buying/orders/<uuid:pk>/delivery/",
        deliveries.new_delivery,
        name="delivery-new",
    ),
    path("buying/deliveries/<uuid:pk>/undo/", deliveries.undo, name="delivery-undo"),
    path(
        "buying/delivered/<uuid:pk>/price/",
        deliveries.accept_price,
        name="delivery-price",
    ),
    path("buying/jobs/<uuid:pk>/take-out/", uses.take_out, name="take-out"),
    path("buying/jobs/<uuid:pk>/put-back/<int:stamp>/", uses.put_back, name="put-back"),
]
